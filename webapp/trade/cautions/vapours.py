"""Cautions about what harms by breath or skin: hardeners, resins, glues, strippers and old paint.

Numbers are limits in the air averaged over eight hours unless said otherwise. A small shop can rarely measure them;
they show how little is too much. Not modelled: masks, gloves and their ratings, air changes.
"""

from webapp.trade.cautions.caution import EU, UK, US, Caution, Limit
from webapp.trade.sources import MEMORY

VAPOURS: tuple[Caution, ...] = (
    Caution(
        "isocyanates",
        "Isocyanates",
        "They can set off asthma and allergy for life, in people nearby too. Gloves on, skin covered, air moving; spray"
        " only with a supplied-air mask and a booth; never heat or sand it before it has cured.",
        "OSHA National Emphasis Program 2013 (summary); J. Occup. Environ. Hyg. 2013 on state surveillance,"
        " stacks.cdc.gov/view/cdc/22565",
        (
            Limit(US, "MDI 0.2 mg/m³ (0.02 ppm), never more", "NIOSH, cdc.gov/niosh/idlh/101688.html (OSHA PEL)"),
            Limit(UK, "0.02 mg/m³, 0.07 mg/m³ over 15 min, as NCO; health watched", "HSE EH40/2005 (2020)", MEMORY),
            Limit(EU, "0.006 mg/m³ as NCO, 0.010 until the end of 2028", "Directive (EU) 2024/869"),
            Limit(
                EU,
                "training before professional use, above 0.1 % of monomer, since 24 August 2023",
                "REACH XVII no. 74",
            ),
        ),
    ),
    Caution(
        "epoxy",
        "Epoxy on the skin",
        "Skin that meets uncured epoxy can turn allergic to it for good. Wear nitrile gloves, clean skin with soap and"
        " never with solvent, and do not breathe the dust of epoxy younger than a week.",
        "European Agency for Safety and Health at Work on epoxy resins (OSHwiki); NIOSH HETA 2011-0180-3193; a week:"
        " common practice, no source",
    ),
    Caution(
        "epoxy-heat",
        "Epoxy in a deep pot boils and smokes",
        "Mixed epoxy heats itself: a full pot can melt its cup, burn you and light what is near. Mix small, pour it out"
        " shallow, fill deep holes in layers, and stand a hot pot outdoors. Hardener in sawdust can catch fire by"
        " itself.",
        "University of Delaware, epoxy material generates smoke (lessons learned); an epoxy maker's safety page",
    ),
    Caution(
        "formaldehyde",
        "Formaldehyde",
        "Urea glue and acid-hardened lacquer give it off while they are mixed, pressed, warmed and cured. It causes"
        " cancer. Let fresh air through, wear the mask the label asks for, and a dust mask for the powder.",
        "29 CFR 1910.1048; OSHA eTool on sawmills, chemicals",
        (
            Limit(US, "0.75 ppm; 2 ppm over 15 min", "29 CFR 1910.1048(c)"),
            Limit(UK, "2 ppm (2.5 mg/m³)", "HSE EH40/2005 (2020)", MEMORY),
            Limit(EU, "0.3 ppm (0.37 mg/m³); 0.6 ppm over 15 min", "Directive (EU) 2019/983", MEMORY),
            Limit(EU, "wooden furniture may give off 0.062 mg/m³ of room air at most", "Regulation (EU) 2023/1464"),
        ),
    ),
    Caution(
        "contact-cement",
        "Contact cement fumes",
        "Its fumes flash: they run along the floor to a pilot light or motor. Open windows and doors across, put every"
        " flame and motor out until the smell is gone, keep the can shut, and take a waterborne one where it will do.",
        "16 CFR 1302 and 1500.133; CPSC release of 9 December 1977: 130 burned, 15 of them dead, since 1970",
        (
            Limit(US, "flash point 20 °F or lower: banned for consumers above half a pint", "16 CFR 1302"),
            Limit(UK, "toluene in it above 0.1 % is not sold to the public", "REACH Annex XVII no. 48", MEMORY),
            Limit(EU, "toluene in it above 0.1 % is not sold to the public", "REACH Annex XVII no. 48", MEMORY),
        ),
    ),
    Caution(
        "strippers",
        "Paint stripper",
        "Dichloromethane (methylene chloride) has killed people in small rooms within minutes. Leave it to those who"
        " may use it; strip with another kind, outdoors or in moving air, with the gloves its label names.",
        "84 FR 11420 (27 March 2019) and 89 FR 39254 (8 May 2024), EPA; HSE, REACH news on dichloromethane",
        (
            Limit(US, "dichloromethane: none for consumers, most trades ended", "40 CFR 751; 89 FR 39254"),
            Limit(UK, "0.1 % at most, but for trained and certified professionals", "UK REACH XVII no. 59; HSE"),
            Limit(EU, "0.1 % at most for the public and for professionals", "REACH XVII no. 59; Reg. (EU) 276/2010"),
        ),
    ),
    Caution(
        "lead-paint",
        "Old paint may hold lead",
        "Paint from before 1978, later in some countries, may hold lead, and its dust harms children most. Test it"
        " before you scrape. Never dry-sand, burn or blast it; wet it, keep the dust together, wash, and keep children"
        " away.",
        "16 CFR 1303 (CPSC); USDA Forest Service, Lead-Based Paint: Planning Your Paint Removal Project (2007)",
        (
            Limit(US, "no paint or furniture with lead paint made since 27 February 1978", "16 CFR 1303"),
            Limit(US, "0.05 mg/m³", "29 CFR 1926.62", MEMORY),
            Limit(
                UK, "0.15 mg/m³; lead paint not sold to the public since 1992", "Control of Lead at Work 2002", MEMORY
            ),
            Limit(EU, "0.03 mg/m³", "Directive (EU) 2024/869"),
        ),
    ),
    Caution(
        "ca-cotton",
        "Superglue and cotton burn",
        "Cyanoacrylate on cotton, wool or paper heats at once, hot enough to burn skin deep and to smoke. No cotton"
        " gloves, no cloth to wipe it, and keep it off your clothes. Its fumes sting; it glues fingers and eyes.",
        "A burn of a child and 16 cases in the literature, 91 °C measured (2015), safetylit.org",
    ),
    Caution(
        "hide-glue-heat",
        "The glue pot is hot",
        "Hide glue is used at about 140 °F (60 °C), in a pot of hot water. Keep the water topped up, the lead out of"
        " the way, and never leave the pot on alone.",
        "Working temperature: sellers' and how-to pages (weak); the rest common practice, no source",
    ),
)
