"""Cautions about dust and cutters: fine dust, woods that bite, saw, grooving cutters, router.

Not modelled: which machine is used for a cut, and lathes.
"""

from webapp.trade.cautions.caution import EU, UK, US, Caution, Limit
from webapp.trade.sources import MEMORY

MACHINES: tuple[Caution, ...] = (
    Caution(
        "saw-guards",
        "Guard and riving knife on the saw",
        "Keep the guard down close to the work and the riving knife behind the blade: thicker than the plate, thinner"
        " than the cut. Push sticks for the end of a rip. Stand out of the line. Unplug before you change the blade.",
        "29 CFR 1910.213; WAC 296-806-48012 (Washington State); 8 CCR 4296 (California); HSE, hse.gov.uk/woodworking",
        (
            Limit(US, "hood down to the work, within 1/4 in if set by hand", "WAC 296-806-48012"),
            Limit(US, "spreader within 1/2 in of the blade for ripping", "8 CCR 4296(j)"),
            Limit(
                UK,
                "riving knife within 8 mm; push stick 450 mm long for the last 300 mm",
                "HSE, hse.gov.uk/woodworking/ripsaw.htm",
            ),
            Limit(UK, "the blade stops within 10 s", "HSE WIS 16 (rev. 2)"),
            Limit(EU, "as built: guard, riving knife and brake", "EN 1870-1", MEMORY),
        ),
    ),
    Caution(
        "grooving",
        "Grooving cutters where they are allowed",
        "A groove or rabbet takes the guard off a table saw: put featherboards, a tunnel or a jig in its place, and the"
        " guard back after. Grooving cutters go only on a saw made for them and where local rules allow it; a router or"
        " spindle moulder is the safer way.",
        "8 CCR 4296(a) (California); HSE WIS 16 (rev. 2)",
        (
            Limit(US, "combs (featherboards) or jigs where the guard cannot be used", "8 CCR 4296(a)"),
            Limit(UK, "spindle moulder or router named as the better machine for grooves", "HSE WIS 16 (rev. 2)"),
            Limit(EU, "many saws are made so that they take no grooving cutter", "EN 1870-1", MEMORY),
        ),
    ),
    Caution(
        "router",
        "Router",
        "Hold the work fast and feed against the turn of the bit; take end grain last, in light passes. Bits go well"
        " into the collet and no faster than their size allows. Eyes and ears covered, unplugged for changes.",
        "OSHA eTool on woodworking, handheld routers",
        (Limit(EU, "only bits marked for hand feed", "EN 847-1", MEMORY),),
    ),
    Caution(
        "blades",
        "Power off to change",
        "Unplug before you change a cutter or clear a jam. Keep the guard that belongs to the machine, and do not clear"
        " a cutter that still turns. A machine that stopped with the power must not start by itself.",
        "29 CFR 1910.213(a), (b); labtrain.noaa.gov/osha600/mod15/1504----.htm",
        (Limit(UK, "training, guards and stopping", "PUWER 1998 (SI 1998/2306)", MEMORY),),
    ),
    Caution(
        "dust",
        "Fine dust",
        "Wood dust causes asthma and cancer of the nose, and burns fast when it hangs in the air. Draw it off where it"
        " is made, wear a mask, sweep without blowing.",
        "osha.gov/SLTC/wooddust/evaluation.html; HSE EH40/2005 and WIS 30; IARC vol. 100C (from memory)",
        (
            Limit(US, "15 mg/m³ in all, 5 mg/m³ that reaches the lungs", "OSHA, as dust not otherwise regulated"),
            Limit(US, "1 mg/m³ advised; western red cedar 0.5 mg/m³", "NIOSH; ACGIH 2007, in OSHA's table"),
            Limit(UK, "hardwood and mixtures 3 mg/m³, softwood 5 mg/m³", "HSE EH40/2005 (2020)"),
            Limit(EU, "hardwood and mixtures 2 mg/m³ since 18 January 2023", "Directive (EU) 2017/2398"),
        ),
    ),
    Caution(
        "irritant-woods",
        "This wood irritates",
        "Its dust, sap or splinters are known to bring on rash, asthma or sore eyes in some people, more with time."
        " Cover your skin, use a better mask than usual, wash before you eat, and stop if you itch or wheeze.",
        "HSE WIS 30 (rev. 1), Toxic woods; NIOSH on wood dust, cdc.gov/niosh/pel88/wooddust.html",
        (Limit(US, "western red cedar 0.5 mg/m³ advised", "ACGIH 2007, in OSHA's table"),),
    ),
    Caution(
        "spalted",
        "Spalted wood holds moulds",
        "The fungi that drew the lines can set off asthma and lung trouble in those who react to them. Work it dry,"
        " with a mask and extraction, and clear the dust away at once; leave it alone if your chest is weak.",
        "American Lutherie no. 71 (2002), a poison information nurse on spalted wood (weak)",
    ),
)
