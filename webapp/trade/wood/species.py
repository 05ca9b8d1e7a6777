"""Species whose movement across the grain is known, with the two coefficients of each.

Only rows of the table that were seen in print are here. Others are recalled by many, yellow-poplar, pine, mahogany and
teak among them; a figure recalled is not offered as one that was read, so for these a maker types the coefficients
from a source of their own. Commercial red and white oak are averages of the species sold under that name.

Not modelled: boards from near the pith, burls and crotches, sapwood against heartwood, plywood and other boards made of
layers (they hardly move).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from webapp.trade.numerals import read_decimal
from webapp.trade.sources import READ

SOURCE = "Wood Handbook FPL-GTR-190 (2010) ch. 13, Table 13-5, https://issuhub.com/view/index/5801?pageIndex=307"
PLACES = 8  # of a typed coefficient
LEAST, MOST = Decimal("0.0002"), Decimal("0.0100")  # common practice, no source: what a typed coefficient can be
TYPED = "typed"
NAMED = 4  # woods that a short name may mean, in a sentence


class SpeciesError(ValueError):
    """A coefficient that cannot be; the text says what to write."""


@dataclass(frozen=True, slots=True)
class Species:
    """A species: its name in the table, as it is said, and its change of width per 1 % moisture, as a share.

    `radial` is across the rings (quarter-sawn), `tangential` along them (flat-sawn). How it is known: read or typed.
    """

    name: str
    said: str
    radial: Decimal
    tangential: Decimal
    source: str = SOURCE
    how: str = READ


ROWS = (
    ("alder, red", "red alder", "0.00151", "0.00256"),
    ("apple", "apple", "0.00205", "0.00376"),
    ("ash, black", "black ash", "0.00172", "0.00274"),
    ("ash, Oregon", "Oregon ash", "0.00141", "0.00285"),
    ("ash, pumpkin", "pumpkin ash", "0.00126", "0.00219"),
    ("ash, white", "white ash", "0.00169", "0.00274"),
    ("ash, green", "green ash", "0.00169", "0.00274"),
    ("aspen, quaking", "quaking aspen", "0.00119", "0.00234"),
    ("basswood, American", "American basswood", "0.00230", "0.00330"),
    ("beech, American", "American beech", "0.00190", "0.00431"),
    ("birch, paper", "paper birch", "0.00219", "0.00304"),
    ("birch, river", "river birch", "0.00162", "0.00327"),
    ("birch, yellow", "yellow birch", "0.00256", "0.00338"),
    ("birch, sweet", "sweet birch", "0.00256", "0.00338"),
    ("buckeye, yellow", "yellow buckeye", "0.00123", "0.00285"),
    ("butternut", "butternut", "0.00116", "0.00223"),
    ("catalpa, northern", "northern catalpa", "0.00085", "0.00169"),
    ("cherry, black", "black cherry", "0.00126", "0.00248"),
    ("chestnut, American", "American chestnut", "0.00116", "0.00234"),
    ("cottonwood, black", "black cottonwood", "0.00123", "0.00304"),
    ("cottonwood, eastern", "eastern cottonwood", "0.00133", "0.00327"),
    ("elm, American", "American elm", "0.00144", "0.00338"),
    ("elm, rock", "rock elm", "0.00165", "0.00285"),
    ("elm, slippery", "slippery elm", "0.00169", "0.00315"),
    ("elm, winged", "winged elm", "0.00183", "0.00419"),
    ("elm, cedar", "cedar elm", "0.00183", "0.00419"),
    ("hackberry", "hackberry", "0.00165", "0.00315"),
    ("hickory, pecan", "pecan hickory", "0.00169", "0.00315"),
    ("honeylocust", "honeylocust", "0.00144", "0.00230"),
    ("locust, black", "black locust", "0.00158", "0.00252"),
    ("madrone, Pacific", "Pacific madrone", "0.00194", "0.00451"),
    ("magnolia, cucumbertree", "cucumbertree", "0.00180", "0.00312"),
    ("magnolia, southern", "southern magnolia", "0.00187", "0.00230"),
    ("magnolia, sweetbay", "sweetbay magnolia", "0.00162", "0.00293"),
    ("maple, bigleaf", "bigleaf maple", "0.00126", "0.00248"),
    ("maple, red", "red maple", "0.00137", "0.00289"),
    ("maple, silver", "silver maple", "0.00102", "0.00252"),
    ("maple, black", "black maple", "0.00165", "0.00353"),
    ("maple, sugar", "sugar maple", "0.00165", "0.00353"),
    ("oak, black", "black oak", "0.00123", "0.00230"),
    ("red oak, commercial", "red oak", "0.00158", "0.00369"),
    ("red oak, California", "California black oak", "0.00123", "0.00230"),
    ("red oak: water, laurel, willow", "water, laurel or willow oak", "0.00151", "0.00350"),
    ("white oak, commercial", "white oak", "0.00180", "0.00365"),
    ("white oak, live", "live oak", "0.00230", "0.00338"),
    ("white oak, Oregon white", "Oregon white oak", "0.00144", "0.00327"),
    ("white oak, overcup", "overcup oak", "0.00183", "0.00462"),
    ("persimmon, common", "common persimmon", "0.00278", "0.00403"),
    ("sassafras", "sassafras", "0.00137", "0.00216"),
    ("sweetgum", "sweetgum", "0.00183", "0.00365"),
    ("sycamore, American", "American sycamore", "0.00172", "0.00296"),
    ("tanoak", "tanoak", "0.00169", "0.00423"),
    ("tupelo, black", "black tupelo", "0.00176", "0.00308"),
    ("tupelo, water", "water tupelo", "0.00144", "0.00267"),
    ("walnut, black", "black walnut", "0.00190", "0.00274"),
)

SPECIES = tuple(Species(name, said, Decimal(radial), Decimal(tangential)) for name, said, radial, tangential in ROWS)
ALSO_SAID = {"hard maple": "maple, sugar", "pecan": "hickory, pecan"}  # common practice, no source
NOT_READ = (
    "true hickory", "black willow", "yellow-poplar", "baldcypress", "yellow cedar", "eastern redcedar", "incense cedar",
    "northern white cedar", "western redcedar", "douglas-fir", "white fir", "western hemlock", "eastern white pine",
    "longleaf pine", "ponderosa pine", "southern pine", "sugar pine", "redwood", "engelmann spruce", "sitka spruce",
    "mahogany", "teak",
)  # fmt: skip


def find(name: str) -> Species | None:
    """Return the species of that name, or None: nothing is guessed.

    Takes:   a name as in the table (cherry, black) or as it is said (black cherry), capitals as you like.
    Returns: the Species; None for a name that is not there, or that could mean several (oak).
    Raises:  nothing.
    Source:  Wood Handbook FPL-GTR-190, Table 13-5.

    >>> find("Black cherry").tangential, find("oak"), find("teak")
    (Decimal('0.00248'), None, None)
    """
    return _BY_NAME.get(_plain(name))


def like(words: str) -> tuple[Species, ...]:
    """Return the species a maker may mean, to choose from.

    Takes:   one or more words, or their beginnings.
    Returns: the species in whose names each word begins one, in the order of the table; none for no words.
    Raises:  nothing.
    Source:  common practice, no source.

    >>> [species.said for species in like("oak wh")]
    ['white oak', 'live oak', 'Oregon white oak', 'overcup oak']
    """
    wanted = _plain(words).split()
    return tuple(one for one in SPECIES if wanted and all(_begins(word, one) for word in wanted))


def coefficient(text: str) -> Decimal:
    """Return a coefficient as a maker types it.

    Takes:   the change of width per 1 % moisture as a share: 0.00248.
    Returns: that share, exact.
    Raises:  NumberError for no number; SpeciesError outside 0.0002 to 0.01.
    Source:  the maker's; the bounds are common practice, no source.

    >>> coefficient(".00248")
    Decimal('0.00248')
    """
    return _checked(read_decimal(text, PLACES))


def _checked(share: Decimal) -> Decimal:
    if not LEAST <= share <= MOST:
        raise SpeciesError("Write the change for 1 % moisture as a share, from 0.0002 to 0.01: 0.00248, not 0.248 %.")
    return share


def typed(said: str, radial: Decimal, tangential: Decimal, source: str) -> Species:
    """Return a species with coefficients a maker types from a source of their own.

    Takes:   its name; the change of width per 1 % moisture as a share (0.00248), radial and tangential; where they
             stand.
    Returns: a Species that says it was typed.
    Raises:  SpeciesError for no name, no source or a coefficient outside 0.0002 to 0.01.
    Source:  the maker's; the bounds are common practice, no source.

    >>> typed("teak", Decimal("0.00101"), Decimal("0.00186"), "the yard's sheet").how
    'typed'
    """
    if not said.strip() or not source.strip():
        raise SpeciesError("Write the name of the wood, and where its figures stand.")
    return Species(said, said, _checked(radial), _checked(tangential), source, TYPED)


def why_unknown(name: str) -> str:
    """Return the sentence that stands where a movement would be.

    Takes:   the name of a wood that `find` does not know.
    Returns: a sentence that says what to do.
    Raises:  nothing.
    Source:  common practice, no source.

    >>> why_unknown("teak")
    'The figure for teak was not seen in print. Type its coefficients and their source, or leave the movement out.'
    """
    wood = " ".join(name.split()) or "a wood without a name"
    if several := like(name):
        names = [one.said for one in several[:NAMED]]
        return f"“{wood}” can be {', '.join(names)}{' and others' if len(several) > NAMED else ''}: write which it is."
    known = (
        f"The figure for {wood} was not seen in print." if _plain(name) in NOT_READ else f"No figure for {wood} here."
    )
    return f"{known} Type its coefficients and their source, or leave the movement out."


def _plain(name: str) -> str:
    return " ".join(name.lower().split())


def _begins(word: str, species: Species) -> bool:
    names = f"{species.name} {species.said}".lower().replace(",", " ").replace(":", " ")
    return any(part.startswith(word) for part in names.split())


def _names() -> Iterator[tuple[str, Species]]:
    for one in SPECIES:
        yield from ((_plain(name), one) for name in (one.name, one.said))
    by_name = {one.name: one for one in SPECIES}
    yield from ((said, by_name[name]) for said, name in ALSO_SAID.items())


_BY_NAME = dict(_names())
