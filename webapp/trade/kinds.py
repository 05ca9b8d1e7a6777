"""The kinds of operation: whether the work may pause at closing, whether it raises dust, whether a wait follows.

A kind is only a word with defaults; any other word is a kind too, with those of the last row. `waits` says that the
hands-on work is followed by a wait that the clock runs for (clamp, cure, recoat, rest): where a page offers a product
and asks whether it is dry. It changes no plan.
"""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of operation and its defaults; each operation may say otherwise."""

    name: str
    split: bool
    dusty: bool
    waits: bool


# name: split, dusty, waits. In the order in which a piece goes through them.
_TABLE: Mapping[str, tuple[bool, bool, bool]] = {
    "design": (True, False, False),
    "fetch": (True, False, False),
    "break down": (True, True, False),
    "rough mill": (True, True, False),
    "rest": (True, False, True),
    "final mill": (True, True, False),
    "mill": (True, True, False),
    "resaw": (True, True, False),
    "cut": (True, True, False),
    "mark out": (True, False, False),
    "joinery": (True, True, False),
    "groove": (True, True, False),
    "mortise": (True, True, False),
    "dovetail": (True, True, False),
    "rabbet": (True, True, False),
    "shape": (True, True, False),
    "turn": (True, True, False),
    "carve": (True, True, False),
    "bend": (False, False, True),
    "veneer": (False, False, True),
    "dry fit": (True, False, False),
    "glue-up": (False, False, True),
    "level": (True, True, False),
    "fit doors": (True, False, False),
    "fit drawers": (True, False, False),
    "sand": (True, True, False),
    "stain": (False, False, True),
    "coat": (False, False, True),
    "rub out": (True, False, False),
    "fit hardware": (True, False, False),
    "pack": (False, False, False),
    "deliver": (False, False, False),
}

KINDS: tuple[Kind, ...] = tuple(Kind(name, *defaults) for name, defaults in _TABLE.items())

# Short work the planner puts in before a coat: minutes, all unsplit. Only sanding is dusty.
INSERTED: Mapping[str, int] = {"sand": 30, "wash": 15, "scuff": 15}
OTHER_INSERTED = 15

_BY_NAME: Mapping[str, Kind] = {kind.name: kind for kind in KINDS}


def kind(name: str) -> Kind:
    """Return the defaults of a kind of operation.

    Takes:   the kind as it is written; any word will do.
    Returns: the row of the table, or for other words: may pause at closing, no dust, no wait.
    Raises:  nothing.
    Source:  the shop document, "Kinds"; which kinds wait: common practice, no source.

    >>> kind("glue-up").split, kind("sand").dusty, kind("turn a bowl").split
    (False, True, True)
    """
    return _BY_NAME.get(name) or Kind(name, split=True, dusty=False, waits=False)


def inserted(name: str) -> tuple[Kind, int]:
    """Return the kind and the minutes of work the planner puts in before a coat.

    Takes:   what a recoat window needs: "sand", "wash", "scuff" or another word.
    Returns: the kind, never split, and its minutes.
    Raises:  nothing.
    Source:  the shop document, "Kinds"; other words take as long as a wash (shop rule, to be checked).

    >>> inserted("sand")
    (Kind(name='sand', split=False, dusty=True, waits=False), 30)
    """
    return Kind(name, split=False, dusty=kind(name).dusty, waits=False), INSERTED.get(name, OTHER_INSERTED)
