"""Which cautions belong where: to a kind of work, a product, a wood, a piece; and again when the shop closes.

The cautions themselves stand in `fires`, `vapours`, `machines` and `pieces`, the gravest first. They remind; they do
not teach a trade and they do not replace the law.

Not modelled: which rules bind a shop, what a machine needs, first aid.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from webapp.trade.cautions.caution import Caution
from webapp.trade.cautions.fires import FIRES
from webapp.trade.cautions.machines import MACHINES
from webapp.trade.cautions.pieces import PIECES
from webapp.trade.cautions.vapours import VAPOURS
from webapp.trade.kinds import kind as kind_of
from webapp.trade.products.families import families_of
from webapp.trade.wood.woods import IRRITANT, SPALTED, traits

__all__ = [
    "CAUTIONS",
    "HEATERS",
    "RAGS",
    "Caution",
    "CautionError",
    "Done",
    "again_at_closing",
    "caution",
    "for_heating",
    "for_kind",
    "for_operation",
    "for_piece",
    "for_product",
    "for_species",
]

CAUTIONS: tuple[Caution, ...] = (*FIRES, *VAPOURS, *MACHINES, *PIECES)

RAGS = "oily-rags"
OILY_DUST = "oily-dust"
FLAME = "open-flame"
HEATERS = "heaters"

_BY_KEY: Mapping[str, Caution] = MappingProxyType({one.key: one for one in CAUTIONS})
_RANK: Mapping[str, int] = MappingProxyType({one.key: rank for rank, one in enumerate(CAUTIONS)})
_ABRADING = frozenset({"sand", "level", "rub out", "scuff"})


def _words(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{pattern})\b", re.I)


_PIECE_WORDS: tuple[tuple[re.Pattern[str], str], ...] = (
    (
        _words(
            "chests?|dressers?|wardrobes?|armoires?|bureaus?|tallboys?|highboys?|lowboys?|closets?|chiffoniers?"
            "|bookcases?|book ?shel(?:f|ves)|shelving|cupboards?|sideboards?|hutch(?:es)?"
        ),
        "tip-over",
    ),
    (_words("cribs?|cots?|cradles?|baby beds?"), "cribs"),
    (_words("bunks?|bunk ?beds?|loft beds?|high beds?"), "bunk-beds"),
    (
        _words(
            "(?:cutting|chopping|bread|cheese|serving|carving) ?boards?|butcher(?:'s)? blocks?|bowls?|platters?"
            "|(?:wooden )?spoons?|spatulas?|rolling pins?|worktops?|countertops?|kitchen tops?|trays?"
        ),
        "food-contact",
    ),
)
_WORK_WORDS: tuple[tuple[re.Pattern[str], str], ...] = (
    (_words("spray(?:s|ed|ing)?"), "spraying"),
    (_words("strippers?|stripping|paint removers?|strip (?:the |off )*(?:old )?(?:paint|finish|varnish)"), "strippers"),
    (_words("(?:old|lead) paint|painted antiques?|strip (?:the |off )*(?:old )?paint"), "lead-paint"),
    (_words("dado(?:e?s|ing)?|grooving|housings?|stacked cutters?"), "grooving"),
    (_words("rout(?:er|ers|ing|ed)?"), "router"),
    (_words("super ?glue|CA glue|cyanoacrylate"), "ca-cotton"),
)


class CautionError(ValueError):
    """A caution that is not in the list; the text says which."""


@dataclass(frozen=True, slots=True)
class Done:
    """Work of a day: its kind, and the product it laid down or sanded, by name and family."""

    kind: str
    product: str = ""
    family: str = ""


def caution(key: str) -> Caution:
    """Return the caution of a key.

    Takes:   a key as the functions below give them.
    Returns: the Caution.
    Raises:  CautionError when there is none.
    Source:  each caution carries its own.

    >>> caution("oily-rags").title
    'Oily rags can catch fire by themselves'
    """
    if key not in _BY_KEY:
        raise CautionError(f"There is no caution “{key}”.")
    return _BY_KEY[key]


def _gravest_first(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(set(keys), key=_RANK.__getitem__))


def for_kind(kind: str) -> tuple[str, ...]:
    """Return which cautions belong to a kind of operation, whatever product it uses.

    Takes:   the kind as it is written; any word.
    Returns: keys, the gravest first; none for kinds that need none. What a glue or finish needs: `for_product`.
    Raises:  nothing.
    Source:  common practice, no source; the facts with each caution.

    >>> for_kind("mortise"), for_kind("mark out")
    (('router', 'blades', 'dust'), ())
    """
    return _gravest_first(kind_of(kind).cautions)


def for_product(name: str, family: str = "") -> tuple[str, ...]:
    """Return which cautions belong to a product of a shop.

    Takes:   what it is called, and the family it says it is of.
    Returns: keys, the gravest first: of the family of that name, else of all families it may be one of.
    Raises:  nothing; of a product nobody knows, nothing is known.
    Source:  the facts with each caution.

    >>> for_product("boiled linseed oil"), for_product("our own oil", "oil"), for_product("mystery")
    (('oily-rags',), ('oily-rags', 'solvents'), ())
    """
    return _gravest_first(key for one in families_of(name, family) for key in one.cautions)


def for_species(words: str) -> tuple[str, ...]:
    """Return which cautions belong to a wood.

    Takes:   the species as its maker wrote it, in English.
    Returns: keys, the gravest first; none where nothing is known of it, which is no promise.
    Raises:  nothing.
    Source:  `woods.WOODS`.

    >>> for_species("iroko"), for_species("spalted beech"), for_species("maple")
    (('irritant-woods',), ('spalted',), ())
    """
    known = traits(words)
    return tuple(key for trait, key in ((IRRITANT, "irritant-woods"), (SPALTED, "spalted")) if trait in known)


def for_piece(name: str) -> tuple[str, ...]:
    """Return which cautions belong to a piece by what it is called.

    Takes:   the name of a build as its maker wrote it, in English.
    Returns: keys; none where no word of the name is known. A guess to remind, nothing to rely on.
    Raises:  nothing.
    Source:  the facts with each caution; the words from memory.

    >>> for_piece("Chest of drawers, cherry"), for_piece("Hall table")
    (('tip-over',), ())
    """
    return tuple(key for words, key in _PIECE_WORDS if words.search(name))


def for_operation(
    kind: str, product: str = "", family: str = "", species: str = "", words: str = ""
) -> tuple[str, ...]:
    """Return which cautions belong to an operation before it is begun.

    Takes:   its kind; the product by name and family; the wood; the operation's own name and notes, in English.
    Returns: keys, the gravest first, each once. The wood's own are there only where the work raises dust.
    Raises:  nothing.
    Source:  the facts with each caution; the words from memory.

    >>> for_operation("sand", "oil-varnish blend", "oil", "iroko")
    ('oily-rags', 'oily-dust', 'solvents', 'dust', 'irritant-woods')
    """
    keys = [*for_kind(kind), *for_product(product, family)]
    keys += [key for pattern, key in _WORK_WORDS if pattern.search(words)]
    if kind_of(kind).dusty:
        keys += for_species(f"{species} {words}")
    if kind in _ABRADING and RAGS in keys:
        keys.append(OILY_DUST)
    return _gravest_first(keys)


def again_at_closing(day: Iterable[Done]) -> tuple[str, ...]:
    """Return which cautions are asked about again before the shop is left.

    Takes:   all work of the day, in any order.
    Returns: keys, the gravest first: rags after any step with oil in it; dust too where something was sanded that day;
             heaters where a finish with fumes was laid down and lies wet overnight.
    Raises:  nothing.
    Source:  the facts with each caution.

    >>> again_at_closing([Done("coat", "boiled linseed oil", "oil"), Done("sand")])
    ('oily-rags', 'oily-dust')
    """
    work = list(day)
    laid = {key for one in work for key in for_product(one.product, one.family)}
    keys = [RAGS] if RAGS in laid else []
    if keys and any(one.kind in _ABRADING for one in work):
        keys.append(OILY_DUST)
    if FLAME in laid:
        keys.append(HEATERS)
    return _gravest_first(keys)


def for_heating(wet: Iterable[Done] = ()) -> tuple[str, ...]:
    """Return which cautions go beside an advice to warm the room, the wood or the glue.

    Takes:   what was laid down and still stands wet in that room.
    Returns: keys, the gravest first: always heaters, flames where something wet gives off fumes, rags where there is
             oil in it: their cloths lie about in the same warmth.
    Raises:  nothing.
    Source:  the facts with each caution.

    >>> for_heating(), for_heating([Done("coat", "shellac", "shellac")])
    (('heaters',), ('open-flame', 'heaters'))
    >>> for_heating([Done("coat", "boiled linseed oil", "oil")])
    ('oily-rags', 'heaters')
    """
    laid = {key for one in wet for key in for_product(one.product, one.family)}
    return _gravest_first({HEATERS} | (laid & {RAGS, FLAME}))
