"""Where the figures of glues and finishes come from, and how that is known.

Read: seen at the place named. Weak: seen there too, but a popular or commercial page; it never outranks a label.
Common practice: the trade does so, no source was found. Memory: recalled, not seen. Computed: plain arithmetic on
figures that were read. Pages that carry the name of a maker of products or of a person are described, not named.
"""

from dataclasses import dataclass

READ = "read"
WEAK = "weak"
COMMON = "common practice"
MEMORY = "memory"
COMPUTED = "computed"
HOW_KNOWN = (READ, WEAK, COMMON, MEMORY, COMPUTED)


@dataclass(frozen=True, slots=True)
class Source:
    """Who says it, where that can be read, and how it is known: one of HOW_KNOWN."""

    name: str
    how: str


PRACTICE = Source("common practice, no source", COMMON)
RECALLED = Source("from memory", MEMORY)
DRAWN = Source("computed: a line through two figures of the source", COMPUTED)

GLUE_TABLE = Source(
    "a popular glue table (weak), woodworkingarchive.biz/biscuit-joiners/glue-characteristics.html", WEAK
)
NAVY = Source("Navy manual NAVEDTRA 14119, enginemechanics.tpub.com/14119/Fastening-Materials-81.html", READ)
OPEN_TIMES = Source("woodmagazine.com/woodworking-plans/clamping/glue-ups", READ)
COLD_DOUBLES = Source("woodmagazine.com/glues/give-the-glue-time", READ)
COLD_GLUES = Source("finewoodworking.com/2010/01/01/which-glues-work-in-cold-temperatures", READ)
COLD_NIGHT = Source("lumberjocks.com/replies/588247 (weak)", WEAK)
SUNKEN_JOINTS = Source("university extension text, woodweb.com/knowledge_base/Aching_Glue_Joints.html", READ)
WARM_UREA = Source("woodweb.com/knowledge_base/Speeding_Up_Urea.html", READ)
VENEER_PRESS = Source("woodweb.com/knowledge_base/Veneer_pressing_time.html", READ)
BOTTLE = Source("a glue label, quoted on a maker's page about edge joints (weak)", WEAK)
EPOXY_COLD = Source("a guide to floor coatings (weak), doityourself.com on temperature and epoxy", WEAK)
EPOXY_MAKER = Source("an epoxy maker's magazine on recoating", READ)
CA_SELLERS = Source("two retailers' pages on cyanoacrylate (weak)", WEAK)
HIDE_SELLER = Source("a seller's page on mixing hide glue (weak)", WEAK)

ARMY_SHELLAC = Source(
    "Army TM 43-0139 para 2-23, automotiveaccessories.tpub.com/TM-43-0139/css/TM-43-0139_27.htm", READ
)
ARMY_COLD = Source("Army TM 43-0139 para 5-31, automotiveaccessories.tpub.com/TM-43-0139/css/TM-43-0139_94.htm", READ)
SLOW_FINISHES = Source("popularwoodworking.com on slow-drying finishes", READ)
ONE_DAY = Source("popularwoodworking.com, finishing in one day", READ)
COLD_OIL = Source("engineerfix.com on tung oil (weak)", WEAK)
BLUSH = Source("woodweb.com/knowledge_base/Avoiding_Blush.html", READ)
REGIONAL = Source("a regional magazine guide (weak), newengland.com", WEAK)
FLOORS = Source("a floor-finish article (weak), paleamber.net", WEAK)
TUNG_THREAD = Source("sawmillcreek.org/archive/index.php/t-127931.html", READ)
TUNG_PAGES = Source("how-to pages on oil (weak)", WEAK)
RAW_LINSEED = Source("a how-to page on linseed oil (weak)", WEAK)
OVER_GLAZE = Source("woodweb.com/knowledge_base/Wrinkled_lacquer_over_glaze.html", READ)
STAIN_PEELED = Source("woodweb.com/knowledge_base/Troubleshooting_an_Adhesion_Problem.html and a how-to page", READ)
STAIN_UNDER_WATERBORNE = Source("woodweb.com/knowledge_base/Finish_Defects_with_Waterborne_Over_Oil_Stain.html", READ)
GEL_PAGE = Source("engineerfix.com on stain (weak)", WEAK)
DYE_PAGE = Source("woodrio.com on wood dye (weak)", WEAK)
CONVERSION = Source("woodweb.com/knowledge_base/Conversion_varnish_vs_lacquer.html", READ)
CONVERSION_PAGE = Source("a door maker's page on conversion varnish (weak)", WEAK)
MILK_PAGE = Source("eatsip365.com on milk paint (weak)", WEAK)
PAINT_PAGE = Source("a furniture painter's page on paint that is dry and paint that is cured (weak)", WEAK)
FILLER_PAGE = Source("hunker.com on grain filler (weak)", WEAK)
FILLER_SELLER = Source("a retailer's page on pore fillers (weak)", WEAK)
TWO_PART_PAGE = Source("a builder's forum on two-part polyurethane (weak)", WEAK)
OILY_EXOTICS = Source("woodmagazine.com/woodworking-how-to/finishes-finishing/finishing-oily-exotic-woods", READ)
