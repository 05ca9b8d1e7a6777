"""What a maker has to know of a wood by its name: does it irritate, is it oily, has it tannin, is it spalted.

A trait is found by the words a maker wrote ("resawn cocobolo", "white oak, QS"). A wood that is not listed is not safe;
it is only not known here. Weight and movement are elsewhere.

Not modelled: species by their Latin names, and one board against another.
"""

import re
from collections.abc import Mapping
from types import MappingProxyType

from webapp.trade.sources import MEMORY, OILY_EXOTICS, READ, RECALLED, WEAK, Source

IRRITANT = "irritant"
OILY = "oily"
TANNIN = "tannin-rich"
SPALTED = "spalted"
TRAITS = (IRRITANT, OILY, TANNIN, SPALTED)

_TOXIC = Source("HSE WIS 30 (rev. 1), Toxic woods, as summed up by a turners' club; NIOSH on wood dust", READ)
_TOXIC_RECALLED = Source("HSE WIS 30 (rev. 1), Toxic woods, table 2, from memory", MEMORY)
_MORE_OILS = Source("finewoodworking.com/project-guides/finishing/finishing-oily-woods", READ)
_OILS_WEAK = Source("a finish maker's list of exotic woods (weak)", WEAK)
_IRON = Source("getwoodworking.com on tannin stains; a furniture restorer's page on steel wool (weak)", WEAK)
_MOULD = Source("American Lutherie no. 71 (2002) on spalted wood (weak)", WEAK)

_LISTS: tuple[tuple[str, Source, tuple[str, ...]], ...] = (
    (
        IRRITANT,
        _TOXIC,
        ("western red cedar", "iroko", "boxwood", "cedar of lebanon", "mahogany", "redwood", "rosewood"),
    ),
    (
        IRRITANT,
        _TOXIC_RECALLED,
        (
            *("cocobolo", "teak", "ebony", "padauk", "wenge", "mansonia", "makore", "satinwood", "yew", "obeche"),
            *("bubinga", "purpleheart", "zebrano", "zebrawood", "sapele", "utile", "afrormosia", "ipe", "olivewood"),
            *("blackwood", "sassafras", "kingwood", "tulipwood", "snakewood", "lignum vitae"),
        ),
    ),
    (
        OILY,
        OILY_EXOTICS,
        ("cocobolo", "rosewood", "padauk", "purpleheart", "teak", "eastern red cedar", "aromatic cedar"),
    ),
    (OILY, _MORE_OILS, ("jatoba", "bubinga", "wenge")),
    (OILY, _OILS_WEAK, ("ebony", "kingwood", "lignum vitae", "goncalo alves", "cumaru", "greenheart", "katalox")),
    (TANNIN, _IRON, ("oak", "chestnut", "walnut", "mahogany")),
    (TANNIN, RECALLED, ("cherry", "sapele", "redwood", "western red cedar", "afrormosia", "iroko")),
    (SPALTED, _MOULD, ("spalted", "spalting")),
)

WOODS: tuple[tuple[str, str, Source], ...] = tuple(
    (word, trait, source) for trait, source, words in _LISTS for word in words
)
_PATTERNS: Mapping[str, re.Pattern[str]] = MappingProxyType(
    {
        trait: re.compile(r"\b(?:" + "|".join(word for word, of, _ in WOODS if of == trait) + r")s?\b", re.I)
        for trait in TRAITS
    }
)


def traits(words: str) -> tuple[str, ...]:
    """Return what the wood that is spoken of is known for.

    Takes:   the species, or a part's or operation's name, as its maker wrote it, in English.
    Returns: of "irritant", "oily", "tannin-rich", "spalted" those that are known, in that order; none is no promise.
    Raises:  nothing.
    Source:  each word of WOODS carries its own.

    >>> traits("East Indian rosewood"), traits("White oak, quartersawn"), traits("pine")
    (('irritant', 'oily'), ('tannin-rich',), ())
    """
    return tuple(trait for trait in TRAITS if _PATTERNS[trait].search(words))
