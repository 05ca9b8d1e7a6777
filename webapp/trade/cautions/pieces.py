"""Cautions about what the finished piece may do to whoever lives with it: tip over, trap a child, touch food.

Not modelled: the tests themselves. Whoever sells such a piece reads the standard that binds where it is sold.
"""

from webapp.trade.cautions.caution import EU, UK, US, Caution, Limit
from webapp.trade.sources import MEMORY

PIECES: tuple[Caution, ...] = (
    Caution(
        "tip-over",
        "Chests and wardrobes fall on children",
        "Anything with drawers or doors can tip when a child climbs it. Fix it to the wall, and give the client the"
        " fixing and a word about it. Find out which test binds before you sell one.",
        "16 CFR 1261; 88 FR 28403 (4 May 2023); EN 14749:2016 (scope). The CPSC page that says 57 lb shows a superseded"
        " scope.",
        (
            Limit(US, "clothing storage must meet ASTM F2057-23 since 1 September 2023", "16 CFR 1261.2"),
            Limit(US, "that is: 27 in high, 30 lb, 3.2 ft³ closed, or more", "ASTM F2057-23", MEMORY),
            Limit(UK, "safe as sold; stability by BS EN 14749", "General Product Safety Regulations 2005"),
            Limit(EU, "safe as sold; stability by EN 14749", "EN 14749:2016; Regulation (EU) 2023/988", MEMORY),
        ),
    ),
    Caution(
        "cribs",
        "Cribs and cots have rules of their own",
        "Gaps, posts, heights and strength are laid down, for old ones too. Read the rules, and ask a laboratory"
        " licensed for such tests, before you build one.",
        "16 CFR 1219 and 1220; 75 FR 81766 (28 December 2010); EN 716-1 (scope)",
        (
            Limit(US, "slats 2 3/8 in (60 mm) apart at most, corner posts 1/16 in (1.5 mm)", "16 CFR 1219", MEMORY),
            Limit(UK, "cots of 900 to 1,400 mm inside: BS EN 716", "BS EN 716-1:2017, scope"),
            Limit(EU, "cots of 900 to 1,400 mm inside: EN 716; bars 45 to 65 mm apart", "EN 716-1:2017", MEMORY),
        ),
    ),
    Caution(
        "bunk-beds",
        "Bunk beds have rules of their own",
        "A head, a neck or a limb must not get caught, in grown people's bunks too, nor anybody roll out. Read the"
        " rules before the drawing is fixed.",
        "64 FR 71888; 16 CFR 1213, 1500, 1513; SI 1987/1337",
        (
            Limit(US, "all bunk beds made since 19 June 2000", "16 CFR 1213, 1500, 1513"),
            Limit(UK, "from 800 mm up: gaps 60 to 75 mm, in the base 75 mm at most", "SI 1987/1337"),
            Limit(EU, "bunk and high beds: EN 747", "EN 747-1", MEMORY),
        ),
    ),
    Caution(
        "food-contact",
        "For food",
        "Hard, close-grained wood, no open joints, and a finish that is sold for food and fully cured. Say so to the"
        " client, and say which nut oil is in it: it may harm whoever is allergic. Spalted and irritant woods stay"
        " away.",
        "21 CFR 175.300; FDA Food Code 4-101.17 as in WAC 246-215-04130; Regulation (EC) 1935/2004. Nut oil: common"
        " practice, no source",
        (
            Limit(US, "boards and bowls of hard maple or equally hard, close-grained wood", "FDA Food Code 4-101.17"),
            Limit(US, "coating of listed substances as a continuous film", "21 CFR 175.300"),
            Limit(UK, "must pass nothing harmful to food", "retained Regulation (EC) 1935/2004", MEMORY),
            Limit(EU, "must pass nothing harmful to food; wood has no list of its own", "Regulation (EC) 1935/2004"),
        ),
    ),
)
