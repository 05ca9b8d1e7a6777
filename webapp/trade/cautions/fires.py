"""Cautions about fire: oily cloths and dust, fumes, flames and heaters, spraying.

Two of them come again: at closing after an oil step, and where the app itself says that it is too cold and to warm the
room. Not modelled: flash points and amounts in store.
"""

from webapp.trade.cautions.caution import EU, UK, US, Caution, Limit
from webapp.trade.sources import MEMORY

FIRES: tuple[Caution, ...] = (
    Caution(
        "oily-rags",
        "Oily rags can catch fire by themselves",
        "A cloth, pad or brush wet with drying oil or oil varnish can start to burn within hours, with nobody near."
        " Spread each one flat outdoors until it is hard, or sink it in water in a closed metal can. Never heap them,"
        " never bin them wet.",
        "A university workshop page after NFPA; Army TB 43-0209; 29 CFR 1926.252(e), read in an insurer's sheet. An old"
        " extension sheet that says to bin them is wrong.",
        (
            Limit(US, "oily waste in covered, fire-resistant containers until it is taken away", "29 CFR 1926.252(e)"),
            Limit(US, "emptied every day where flammable liquids are used", "29 CFR 1910.106", MEMORY),
            Limit(UK, "the risk is assessed and waste kept safe", "DSEAR 2002 (SI 2002/2776)", MEMORY),
        ),
    ),
    Caution(
        "oily-dust",
        "Dust with oil in it can catch fire by itself",
        "Sanding dust and pads from oil, oil varnish or a half-dry finish can smoulder in the bag and burn hours later."
        " Empty bag and cyclone before you leave, into a closed metal can outdoors, with water. Nails that spark in the"
        " bag do the same.",
        "hardwoodfloorsmag.com, fire prevention at the jobsite (2018); a fire company's report of a bag of sanding"
        " dust",
    ),
    Caution(
        "solvents",
        "Air for solvents",
        "The fumes harm you, can burn, and lie along the floor. Let fresh air through, wear gloves, keep cans shut, and"
        " use the breathing mask the label asks for.",
        "OSHA eTool on sawmills, chemicals; 29 CFR 1910.106 (from memory)",
        (
            Limit(US, "each solvent has its own limit", "29 CFR 1910.1000 Table Z-1", MEMORY),
            Limit(UK, "each solvent has its own limit", "HSE EH40/2005 (2020)", MEMORY),
            Limit(EU, "each solvent has its own limit", "Directive 98/24/EC and its lists", MEMORY),
        ),
    ),
    Caution(
        "open-flame",
        "No flame, no spark, no glowing heater",
        "Put out pilot lights, stoves, glowing heaters and cigarettes before the can is opened, and leave them out"
        " until the fumes are gone: the night too, since a boiler that lights by itself is enough.",
        "OSHA eTool on woodworking, fire and explosion; 16 CFR 1500.133 (label of contact cements); 29 CFR 1910.107",
        (
            Limit(US, "no open flame, spark or hot surface where it is sprayed", "29 CFR 1910.107(c)"),
            Limit(UK, "no source of ignition where a mixture can burn", "DSEAR 2002 (SI 2002/2776)", MEMORY),
            Limit(EU, "no source of ignition where a mixture can burn", "Directive 1999/92/EC", MEMORY),
        ),
    ),
    Caution(
        "heaters",
        "Warm the room without a flame",
        "Where it says to warm the room: warm it before the can is opened, with a heater that burns nothing in the room"
        " and does not glow, and never leave one on overnight beside wet finish. A heater without a flue also gives off"
        " carbon monoxide and water, which dulls a finish.",
        "CPSC on space heaters, release 05-067 and document 452 (combustion appliances); 29 CFR 1910.107(c)",
        (
            Limit(US, "3 ft between a heater and anything that burns", "CPSC on winter heating, 2009"),
            Limit(US, "no heater with an open flame or hot surface where it is sprayed", "29 CFR 1910.107(c)"),
            Limit(UK, "the fire risk is assessed", "Regulatory Reform (Fire Safety) Order 2005", MEMORY),
        ),
    ),
    Caution(
        "spraying",
        "Spraying needs its own place",
        "A flammable finish is sprayed in a booth or room with its own air and nothing that can spark. Building one is"
        " work for licensed people, under the fire code where you are. Clean residues away: mixed, they can catch"
        " fire.",
        "29 CFR 1910.107, with OSHA's memorandum of 14 July 2009 on it; NFPA 33 (from memory)",
        (
            Limit(US, "booth or room to the standard, sprinklers where there are any", "29 CFR 1910.107"),
            Limit(UK, "booth with its own extraction, examined every 14 months", "COSHH 2002, reg. 9", MEMORY),
            Limit(EU, "zones are marked out", "Directive 1999/92/EC", MEMORY),
        ),
    ),
)
