"""What goes badly together, layer over layer: each row says when it holds, what happens, what to do, and who says so.

Not modelled: brands of one system that are made for each other; a label that allows it wins.
"""

from webapp.trade.clashes.clash import FILMS, HOT, OILS, Clash
from webapp.trade.sources import CONVERSION, EPOXY_MAKER, OVER_GLAZE, PRACTICE, READ, STAIN_PEELED, WEAK, Source

CLASHES_OF_LAYERS: tuple[Clash, ...] = (
    Clash(
        "film-over-oil",
        "Film over oil that has not cured",
        "The film wrinkles, stays soft or peels. Wait until a cloth pressed on it stays clean and it no longer smells,"
        " or keep to oil. A thin coat of dewaxed shellac between them helps, once the oil is dry.",
        Source(
            "popularwoodworking.com on a linseed sealer coat; woodweb.com/knowledge_base/"
            "WaterBased_Polyurethane_Over_Boiled_Linseed_Oil.html",
            READ,
        ),
        product=FILMS,
        over=OILS,
    ),
    Clash(
        "film-over-stain",
        "Film over stain that is not dry",
        "Stain that feels dry still holds oil, and the finish peels. Give it the longer wait, more in the cold; rub it"
        " with a white cloth: no colour, no damp. A barrier coat of dewaxed shellac is safer.",
        STAIN_PEELED,
        product=FILMS,
        over=frozenset({"stain"}),
    ),
    Clash(
        "solvent-over-soft",
        "Strong solvent over a soft layer",
        "Lacquer over an oil glaze, varnish, paint or filler that is a day old wrinkles it. Wait far longer, or lay a"
        " barrier of dewaxed shellac first, and try the whole stack on a sample.",
        OVER_GLAZE,
        product=HOT,
        over=frozenset({"varnish", "oil paint", "filler", "stain"}),
    ),
    Clash(
        "over-wax",
        "Nothing holds over wax",
        "Wash the wax off with spirits, twice, with clean cloths, and sand. Wax is the last layer there is.",
        PRACTICE,
        product=FILMS | OILS | {"stain", "milk paint", "water stain", "dye"},
        over=frozenset({"wax"}),
    ),
    Clash(
        "waxed-shellac",
        "Shellac with wax under another film",
        "The wax in common shellac can keep the next film from holding: take dewaxed shellac there. Makers have tested"
        " it and do not agree; sand it well if it is already on.",
        Source("diygeeks.com on polyurethane over shellac (weak); two makers' tests found no harm", WEAK),
        product=frozenset({"varnish", "waterborne", "catalysed lacquer", "two-part polyurethane"}),
        over=frozenset({"shellac"}),
        but="dewaxed|sealer",
    ),
    Clash(
        "over-soap",
        "Film over soap",
        "Soap keeps a film from holding. Wash it out, let the wood dry and sand, or soap it again.",
        PRACTICE,
        product=FILMS,
        over=frozenset({"soap"}),
    ),
    Clash(
        "soap-over-film",
        "Soap over a film",
        "It does next to nothing there: soap is for bare wood.",
        Source("popularwoodworking.com/finishing/soap-making-clean-finish-2", READ),
        product=frozenset({"soap"}),
        over=FILMS,
    ),
    Clash(
        "soap-on-veneer",
        "Soap on veneer",
        "So much water can lift veneer. Soap is for solid wood.",
        Source("popularwoodworking.com/apr14/soap-wood-finish", READ),
        product=frozenset({"soap"}),
        words=r"veneer(?:s|ed)?",
        of_the_piece=True,
    ),
    Clash(
        "milk-paint-over-film",
        "Milk paint over a finish",
        "It flakes off what it cannot soak into. Bare wood, or a bonding agent mixed in.",
        PRACTICE,
        product=frozenset({"milk paint"}),
        over=FILMS | OILS,
    ),
    Clash(
        "colour-bleeds",
        "Water over a water colour",
        "A waterborne film draws water stain or dye up into itself and makes laps. Seal the colour with dewaxed"
        " shellac.",
        PRACTICE,
        product=frozenset({"waterborne"}),
        over=frozenset({"water stain", "dye"}),
    ),
    Clash(
        "over-epoxy",
        "Over epoxy",
        "While it is tacky it may be coated as it is. Cured, a waxy blush lies on it: wash it off with water first,"
        " then sand. Sanding first rubs the wax in.",
        EPOXY_MAKER,
        product=FILMS | {"epoxy"},
        over=frozenset({"epoxy"}),
    ),
    Clash(
        "over-contact-cement",
        "Solvent over veneer on contact cement",
        "Lacquer and its like reach through the veneer and loosen the glue: bubbles, weeks later. Thin mist coats or a"
        " waterborne film, and for a good piece another glue.",
        Source("woodweb.com/knowledge_base/Veneering_with_contact_cement.html", READ),
        product=HOT | {"shellac"},
        over=frozenset({"contact cement"}),
    ),
    Clash(
        "hardened-too-thick",
        "Hardened lacquer cracks when it is thick",
        "3 thousandths of an inch dry for conversion varnish, 4 to 5 for the whole stack, and no more. Measure wet,"
        " count the coats, and sand back before you add one.",
        CONVERSION,
        product=frozenset({"catalysed lacquer"}),
    ),
    Clash(
        "plastic-on-film",
        "Plastic on a finish",
        "What makes vinyl and rubber soft creeps into the film and sticks. Paper or felt next to the finish when it is"
        " packed, and felt under feet and lamps; tell the client.",
        Source("woodweb.com/knowledge_base/Plastic_Damage.html; ASTM STP45860S on vinyl and lacquer", READ),
        over=HOT | {"waterborne", "shellac", "varnish"},
        kinds=frozenset({"pack", "deliver"}),
    ),
)
