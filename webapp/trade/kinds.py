"""The kinds of operation: whether the work may pause at closing, raises dust, is followed by a wait; how long it takes.

A kind is only a word with defaults; any other word is a kind too, with those of the last row. `waits` says that the
hands-on work is followed by a wait that the clock runs for (clamp, cure, recoat, rest): where a page offers a product
and asks whether it is dry. It changes no plan. `minutes` is an estimate for one of them on a piece of usual size: a
place to begin, until the shop's own record knows better. `cautions` are what its tools ask for, whatever the product.

Not modelled: size and number of parts.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import NamedTuple


class Minutes(NamedTuple):
    """Hands-on work: when all goes well, as it usually is, when it does not."""

    low: int
    likely: int
    high: int


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of operation and its defaults; each operation may say otherwise."""

    name: str
    split: bool
    dusty: bool
    waits: bool
    minutes: Minutes
    cautions: tuple[str, ...] = ()


_SAW = ("saw-guards", "blades", "dust")
_JOINT = ("saw-guards", "grooving", "router", "blades", "dust")
_CUTTER = ("router", "blades", "dust")
_TURNED = ("blades", "dust")
_DUST = ("dust",)

# name: split, dusty, waits, minutes, cautions. In the order in which a piece goes through them.
_TABLE: Mapping[str, tuple[bool, bool, bool, tuple[int, int, int], tuple[str, ...]]] = {
    "design": (True, False, False, (60, 120, 360), ()),
    "fetch": (True, False, False, (30, 60, 120), ()),
    "break down": (True, True, False, (30, 45, 90), _SAW),
    "rough mill": (True, True, False, (40, 60, 120), _SAW),
    "rest": (True, False, True, (5, 10, 20), ()),
    "final mill": (True, True, False, (45, 75, 150), _SAW),
    "mill": (True, True, False, (45, 75, 150), _SAW),
    "resaw": (True, True, False, (20, 30, 60), _SAW),
    "cut": (True, True, False, (20, 30, 60), _SAW),
    "mark out": (True, False, False, (20, 30, 60), ()),
    "joinery": (True, True, False, (60, 120, 300), _JOINT),
    "groove": (True, True, False, (20, 30, 60), _JOINT),
    "mortise": (True, True, False, (60, 120, 240), _CUTTER),
    "dovetail": (True, True, False, (90, 150, 300), _CUTTER),
    "rabbet": (True, True, False, (20, 30, 60), _JOINT),
    "shape": (True, True, False, (30, 60, 150), _CUTTER),
    "turn": (True, True, False, (30, 60, 150), _TURNED),
    "carve": (True, True, False, (60, 180, 600), _DUST),
    "bend": (False, False, True, (30, 60, 120), ()),
    "veneer": (False, False, True, (30, 60, 120), ()),
    "dry fit": (True, False, False, (15, 30, 60), ()),
    "glue-up": (False, False, True, (20, 40, 80), ()),
    "level": (True, True, False, (20, 40, 90), _DUST),
    "fit doors": (True, False, False, (45, 90, 180), ()),
    "fit drawers": (True, False, False, (30, 60, 120), ()),
    "sand": (True, True, False, (40, 90, 180), _DUST),
    "stain": (False, False, True, (20, 40, 80), ()),
    "coat": (False, False, True, (20, 30, 60), ()),
    "rub out": (True, False, False, (30, 60, 120), ()),
    "fit hardware": (True, False, False, (30, 60, 120), ()),
    "pack": (False, False, False, (20, 45, 90), ()),
    "deliver": (False, False, False, (60, 120, 240), ()),
}

KINDS: tuple[Kind, ...] = tuple(
    Kind(name, split, dusty, waits, Minutes(*minutes), cautions)
    for name, (split, dusty, waits, minutes, cautions) in _TABLE.items()
)
OTHER_MINUTES = Minutes(30, 60, 120)

# Short work the planner puts in before a coat: minutes, all unsplit. Only sanding is dusty.
INSERTED: Mapping[str, int] = {"sand": 30, "wash": 15, "scuff": 15}
OTHER_INSERTED = 15

_BY_NAME: Mapping[str, Kind] = {kind.name: kind for kind in KINDS}


def kind(name: str) -> Kind:
    """Return the defaults of a kind of operation.

    Takes:   the kind as it is written; any word will do.
    Returns: the row of the table, or for other words: may pause at closing, no dust, no wait, an hour. Minutes.
    Raises:  nothing.
    Source:  the shop document, "Kinds"; which kinds wait, and all minutes: common practice, no source.

    >>> kind("glue-up").split, kind("sand").dusty, kind("turn a bowl").split
    (False, True, True)
    """
    return _BY_NAME.get(name) or Kind(name, split=True, dusty=False, waits=False, minutes=OTHER_MINUTES)


def inserted(name: str) -> tuple[Kind, int]:
    """Return the kind and the minutes of work the planner puts in before a coat.

    Takes:   what a recoat window needs: "sand", "wash", "scuff" or another word.
    Returns: the kind, never split, and its minutes.
    Raises:  nothing.
    Source:  the shop document, "Kinds"; other words take as long as a wash (shop rule, to be checked).

    >>> inserted("sand")[0].split, inserted("sand")[1]
    (False, 30)
    """
    minutes = INSERTED.get(name, OTHER_INSERTED)
    whole, known = Minutes(minutes, minutes, minutes), kind(name)
    return Kind(name, split=False, dusty=known.dusty, waits=False, minutes=whole, cautions=known.cautions), minutes
