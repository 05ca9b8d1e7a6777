"""What goes badly together with a wood, a metal, a load or a place: each row with when it holds and who says so.

Not modelled: how oily one board is against another.
"""

from webapp.trade.clashes.clash import GLUES, HOT, OXYGEN, WATER_GLUES, WATERY, Clash
from webapp.trade.sources import CONVERSION_PAGE, OILY_EXOTICS, PRACTICE, READ, RECALLED, WEAK, Source
from webapp.trade.wood.woods import OILY, TANNIN

_INSIDE = r"inside|interiors?|drawers?|carcas[es]+|cabinet box|humidor"
_LOAD = r"constant load|under load|bent|bending|laminations?|laminated|curved?|arche?s?|cantilever"
_OUTSIDE = r"outdoors?|garden|patio|boat|planters?"
_SPLASHED = r"bath(?:room)?|shower|sinks?|worktops?|countertops?"
_WET = rf"{_OUTSIDE}|{_SPLASHED}|outside|kitchens?"
_MAGNIFIED = Source(
    "a maker of waterborne finishes, 60 times magnified; sawmillcreek.org/archive/index.php/t-223673", READ
)

CLASHES_OF_WOOD: tuple[Clash, ...] = (
    Clash(
        "steel-wool-waterborne",
        "No steel wool with water",
        "Bits of it stay in the pores and rust into black specks. Rub with a plastic pad or fine paper, and wipe well.",
        _MAGNIFIED,
        product=WATERY,
        kinds=frozenset({"coat", "stain", "rub out", "sand"}),
    ),
    Clash(
        "steel-wool-between",
        "No steel wool on a waterborne film",
        "Its bits rust under the next coat and in every damp summer. Rub with a plastic pad or fine paper, and wipe"
        " well.",
        _MAGNIFIED,
        over=WATERY,
        kinds=frozenset({"rub out", "sand", "scuff"}),
    ),
    Clash(
        "steel-wool-tannin",
        "No steel wool on wood with tannin",
        "Iron, water and tannin make ink: black or blue stains in oak, chestnut, walnut. Plastic pads, and no steel"
        " wool on bare wood. Oxalic acid takes the stain out, and is poisonous.",
        Source("getwoodworking.com on tannin stains", READ),
        wood=TANNIN,
        kinds=frozenset({"sand", "rub out", "level"}),
    ),
    Clash(
        "iron-tannin-glue",
        "Iron clamps on wood with tannin",
        "Wet glue between a steel clamp and oak or walnut leaves a black mark. Paper, wax or wood in between.",
        Source("a workshop programme's page on assembly (weak): glue and clamp discolour the wood", WEAK),
        product=WATER_GLUES,
        wood=TANNIN,
    ),
    Clash(
        "oil-inside",
        "Oil inside a closed piece",
        "Without air it stays sticky and smells for months, for years in a drawer of linen. Inside: shellac, a"
        " waterborne film, wax or nothing.",
        Source(
            "woodworkersjournal.com/same-finish-inside-and-outside; finewoodworking.com/forum, cabinet inside", READ
        ),
        product=OXYGEN,
        words=_INSIDE,
    ),
    Clash(
        "oily-wood-finish",
        "Oily wood under an oil finish",
        "What keeps this wood from rotting keeps oil and varnish from drying: tacky for weeks. Wipe with acetone or"
        " alcohol, seal at once with dewaxed shellac, or take a finish that dries by itself.",
        Source(
            "finewoodworking.com/project-guides/finishing/finishing-oily-woods; woodmagazine.com, oily exotics", READ
        ),
        product=OXYGEN | {"stain"},
        wood=OILY,
    ),
    Clash(
        "oily-wood-film",
        "Oily wood under a film",
        "It dries, but may not hold. Wipe the wood with acetone or alcohol and lay the first coat at once, best dewaxed"
        " shellac.",
        Source("antiquerestorers.com on finishing oily woods", READ),
        product=HOT | {"waterborne"},
        wood=OILY,
    ),
    Clash(
        "oily-wood-glue",
        "Oily wood under glue",
        "Nothing sticks to an oily face. Plane or sand it fresh, wipe it with acetone or alcohol, and glue as soon as"
        " it is dry; a test joint first.",
        OILY_EXOTICS,
        product=GLUES | {"contact cement"},
        wood=OILY,
    ),
    Clash(
        "pva-load",
        "PVA under a load that stays",
        "It gives way slowly, for years: a bend opens, a loaded joint sags. Urea, epoxy or PU where something pulls all"
        " the time.",
        Source("woodweb.com/knowledge_base/Limits_Of_PVA_In_Structural_Bonding__718323.html", READ),
        product=frozenset({"pva", "contact cement"}),
        words=_LOAD,
    ),
    Clash(
        "pva-bend",
        "PVA in a bend",
        "It gives way slowly, and the bend opens. Urea, epoxy or PU hold the curve with less spring back.",
        Source("finewoodworking.com/forum/springback-in-laminations", READ),
        product=frozenset({"pva", "contact cement"}),
        kinds=frozenset({"bend"}),
    ),
    Clash(
        "hide-glue-water",
        "Hide glue and water",
        "It lets go in damp and heat, as it is meant to. For bath, kitchen or garden take a glue that stands water.",
        Source("Wood Handbook FPL-GTR-190 (2010) table 10-3, issuhub.com/view/index/5801?pageIndex=238", READ),
        product=frozenset({"hide glue"}),
        words=_WET,
        of_the_piece=True,
    ),
    Clash(
        "pva-outside",
        "Glue that rain lets go",
        "It softens each time it gets wet. Outside take a glue of class D4 (EN 204), PU or epoxy, under"
        " paint; the label says which class it is.",
        RECALLED,
        product=frozenset({"pva"}),
        words=_OUTSIDE,
        of_the_piece=True,
        water=frozenset({"D1", "D2", "D3"}),
    ),
    Clash(
        "pva-splashed",
        "Glue that splashes let go",
        "Where it is often wet for short it lets go in time. Take a glue of class D3 or D4 (EN 204), PU or epoxy; the"
        " label says which class it is.",
        RECALLED,
        product=frozenset({"pva"}),
        words=_SPLASHED,
        of_the_piece=True,
        water=frozenset({"D1", "D2"}),
    ),
    Clash(
        "contact-cement-joint",
        "Contact cement in a joint",
        "It stays soft and creeps. It is for laminate and backed veneer, and not for raw veneer, which moves too much.",
        Source("woodweb.com/knowledge_base/Contact_Cement_and_Bubbles_Under_Veneer.html", READ),
        product=frozenset({"contact cement"}),
        kinds=frozenset({"glue-up", "veneer", "bend"}),
    ),
    Clash(
        "veneer-one-face",
        "Veneer on one face only",
        "The panel cups as the glue dries and with every season. Veneer both faces in one go, with the same glue.",
        PRACTICE,
        kinds=frozenset({"veneer"}),
    ),
    Clash(
        "acid-and-iron",
        "Acid lacquer and bare metal",
        "Its acid eats bare iron and aluminium and takes their colour: plastic or stainless cups and guns only, and no"
        " bare steel hardware under it.",
        CONVERSION_PAGE,
        product=frozenset({"catalysed lacquer"}),
        words=r"steel|iron|alumini?um|hardware|hinges?|metal",
    ),
    Clash(
        "brass-in-oak",
        "Steel screws in oak",
        "Tannin and damp turn plain steel and the wood round it black. Brass, bronze or stainless where it may get"
        " damp.",
        RECALLED,
        wood=TANNIN,
        kinds=frozenset({"fit hardware"}),
    ),
)
