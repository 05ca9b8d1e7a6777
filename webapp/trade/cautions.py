"""Short cautions, shown where they apply. They remind; they do not teach a trade and they do not replace the law.

Each gives way to the label, the local code and whoever is licensed for the work, and says so.

Not modelled: which rules bind a shop, what a machine needs, first aid.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.families import family


class CautionError(ValueError):
    """A caution that is not in the list; the text says which."""


@dataclass(frozen=True)
class Caution:
    """One caution: its key, a few words to head it, two or three sentences, and where the facts come from."""

    key: str
    title: str
    text: str
    source: str


_LABEL = "The label and your fire code come first."

CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "oily-rags",
        "Oily rags can catch fire by themselves",
        "A cloth wet with drying oil or oil varnish can start to burn within hours, with nobody near. Spread each one"
        " flat outdoors to dry, or sink it in water in a closed metal can. Never heap them, never bin them wet."
        f" {_LABEL}",
        "A university workshop page after NFPA; Army TB 43-0209; 29 CFR 1926.252(e), read in an insurer's sheet. An old"
        " extension sheet that says to bin them is wrong.",
    ),
    Caution(
        "solvents",
        "Air for solvents",
        "The fumes harm you and can burn. Let fresh air through, wear gloves, keep cans shut, and use the breathing"
        " mask the label asks for. The label and its safety sheet come first.",
        "OSHA eTool on sawmills, chemicals; 29 CFR 1910.106 (from memory)",
    ),
    Caution(
        "open-flame",
        "No flame, no spark, no heater",
        "Put out pilot lights, stoves, glowing heaters and cigarettes before the can is opened, and leave them out"
        f" until the fumes are gone. {_LABEL}",
        "OSHA eTool on woodworking, fire and explosion; 29 CFR 1910.107 and NFPA 33 (from memory)",
    ),
    Caution(
        "spraying",
        "Spraying needs its own place",
        "A flammable finish is sprayed in a booth or room with its own air and nothing that can spark. Building one"
        " is work for licensed people, under the fire code where you are.",
        "29 CFR 1910.107; NFPA 33 (from memory)",
    ),
    Caution(
        "dust",
        "Fine dust",
        "Wood dust harms the lungs and nose and burns fast when it hangs in the air. Draw it off where it is made,"
        " wear a mask, sweep without blowing. Local rules set the limits.",
        "29 CFR 1910.1000 Table Z-1, NIOSH, IARC vol. 100C, NFPA 664 (from memory); OSHA eTool on woodworking",
    ),
    Caution(
        "blades",
        "Guards on, power off to change",
        "Keep the guard and the riving knife on, and where a groove or a rabbet does not let them, use a jig or"
        " featherboards. Unplug before you change a blade or a bit. The machine's manual and local rules come first.",
        "29 CFR 1910.213; 8 CCR 4296 (California); WAC 296-806-48012 (Washington State)",
    ),
    Caution(
        "isocyanates",
        "Isocyanates",
        "They can set off asthma and allergy for life, in people nearby too. Gloves on, skin covered, air moving;"
        " never heat or sand it before it has cured. The label and its safety sheet come first.",
        "OSHA National Emphasis Program 2013 (summary); a peer-reviewed paper of 2013 on state surveillance",
    ),
    Caution(
        "epoxy",
        "Epoxy on the skin",
        "Skin that meets uncured epoxy can turn allergic to it for good. Wear nitrile gloves, clean skin with soap"
        " and never with solvent, and do not breathe the dust of epoxy younger than a week. The label and its safety"
        " sheet come first.",
        "European Agency for Safety and Health at Work on epoxy resins; NIOSH HETA 2011-0180-3193; a week: common"
        " practice",
    ),
    Caution(
        "formaldehyde",
        "Formaldehyde",
        "Urea glue gives it off while it is mixed, pressed and warmed. Let fresh air through and wear a mask for the"
        " powder. The label and its safety sheet come first.",
        "OSHA eTool on sawmills, chemicals",
    ),
    Caution(
        "hide-glue-heat",
        "The glue pot is hot",
        "Hide glue is used at about 140 °F (60 °C), in a pot of hot water. Keep the water topped up, the lead out of"
        " the way, and never leave the pot on alone. The pot's own manual comes first.",
        "Working temperature: sellers' and how-to pages (weak); the rest common practice, no source",
    ),
    Caution(
        "tip-over",
        "Chests and wardrobes fall on children",
        "Anything with drawers or doors that holds clothes can tip when a child climbs it. Fix it to the wall, and"
        " give the client the fixing and a word about it. In the United States 16 CFR 1261 (ASTM F2057-23) binds such"
        " pieces from a size on (27 in high, from memory): read it, or ask someone licensed, before you sell one.",
        "16 CFR 1261.2; 88 FR 28403 (2023-05-04); height from memory of ASTM F2057-23",
    ),
    Caution(
        "cribs",
        "Cribs have rules of their own",
        "In the United States 16 CFR 1219 and 1220 bind whoever makes or sells a crib, old ones too; gaps between"
        " slats are at most 2 3/8 in (60 mm). Read the rules, and ask a laboratory licensed for such tests, before"
        " you build one.",
        "16 CFR 1219 and 1220; 75 FR 81766 (2010-12-28); the gap partly from memory",
    ),
    Caution(
        "bunk-beds",
        "Bunk beds have rules of their own",
        "In the United States 16 CFR 1213, 1500 and 1513 say where a head, a neck or a limb must not get caught, for"
        " grown people's bunks too. Read them before the drawing is fixed; local rules may ask for more.",
        "64 FR 71888; 16 CFR 1213, 1500, 1513",
    ),
)

_BY_KEY: Mapping[str, Caution] = MappingProxyType({caution.key: caution for caution in CAUTIONS})

_CUTTING = ("blades", "dust")
_BY_KIND: Mapping[str, tuple[str, ...]] = MappingProxyType(
    dict.fromkeys(
        (
            *("break down", "rough mill", "final mill", "mill", "resaw", "cut", "joinery", "groove", "mortise"),
            *("dovetail", "rabbet", "shape", "turn"),
        ),
        _CUTTING,
    )
    | dict.fromkeys(("carve", "level", "sand"), ("dust",))
)
_PIECES: tuple[tuple[re.Pattern[str], str], ...] = (
    (
        re.compile(
            r"\b(chests?|dressers?|wardrobes?|armoires?|bureaus?|tallboys?|highboys?|lowboys?|closets?|chiffoniers?)\b",
            re.I,
        ),
        "tip-over",
    ),
    (re.compile(r"\b(cribs?|cots?|baby beds?)\b", re.I), "cribs"),
    (re.compile(r"\b(bunks?|bunk ?beds?|loft beds?)\b", re.I), "bunk-beds"),
)


def caution(key: str) -> Caution:
    """Return the caution of a key.

    Takes:   a key as `for_kind`, `for_family` and `for_piece` give them.
    Returns: the Caution.
    Raises:  CautionError when there is none.
    Source:  each caution carries its own.

    >>> caution("oily-rags").title
    'Oily rags can catch fire by themselves'
    """
    if key not in _BY_KEY:
        raise CautionError(f"There is no caution “{key}”.")
    return _BY_KEY[key]


def for_kind(kind: str) -> tuple[str, ...]:
    """Return which cautions belong to a kind of operation, whatever product it uses.

    Takes:   the kind as it is written; any word.
    Returns: keys, the gravest first; none for kinds that need none. What a glue or finish needs: `for_family`.
    Raises:  nothing.
    Source:  common practice, no source; the facts with each caution.

    >>> for_kind("groove"), for_kind("mark out")
    (('blades', 'dust'), ())
    """
    return _BY_KIND.get(kind, ())


def for_family(name: str) -> tuple[str, ...]:
    """Return which cautions belong to a glue or finish family.

    Takes:   the name of a family in `families.FAMILIES`.
    Returns: keys, the gravest first.
    Raises:  FamilyError when there is no family of that name.
    Source:  the facts with each caution.

    >>> for_family("boiled linseed oil"), for_family("yellow PVA")
    (('oily-rags',), ())
    """
    return family(name).cautions


def for_piece(name: str) -> tuple[str, ...]:
    """Return which cautions belong to a piece by what it is called.

    Takes:   the name of a build as its maker wrote it, in English.
    Returns: keys; none where no word of the name is known. A guess to remind, nothing to rely on.
    Raises:  nothing.
    Source:  the facts with each caution; the words from memory.

    >>> for_piece("Chest of drawers, cherry"), for_piece("Hall table")
    (('tip-over',), ())
    """
    return tuple(key for words, key in _PIECES if words.search(name))
