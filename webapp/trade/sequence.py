"""Whether the steps of a piece come in an order that wood forgives: read from their kinds, groups and names.

A panel in a frame moves: it is finished before the frame goes round it, or an unfinished line shows when it shrinks,
and it is never glued in. A panel veneered on one face only cups, and one that comes out of a press rests before it is
cut or sanded.

Not modelled: panels of plywood, which do not move; names that do not say what they are about.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.trade.kinds import kind

RESTS = 24 * 60  # minutes from the press to the saw
GLUE_UP, VENEER = "glue-up", "veneer"
FINISHES = ("stain", "coat")
_PANEL = re.compile(r"\bpanels?\b")
_FRAME = re.compile(r"\b(?:frames?|doors?|lids?|stiles?)\b")
_ONE_FACE = re.compile(r"\b(?:one|outer|outside|front|show|good|face)[ -](?:faces?|sides?|only)\b|\bface only\b")
_OTHER_FACE = re.compile(r"\b(?:both|back|backs|backer|other|second|inner|inside)\b")


@dataclass(frozen=True, slots=True)
class Step:
    """A step of a piece: its key, name, kind and group, and the keys of the steps it waits for.

    `pressed`: it leaves panels in a press. `rested` are the keys in `after` that it waits for with a rest of its own.
    """

    key: str
    name: str
    kind: str
    group: str = ""
    after: tuple[str, ...] = ()
    pressed: bool = False
    rested: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        return f"{self.name} {self.group}".casefold()


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something about the order that is worth a second look: the key of the step, and why in a sentence."""

    key: str
    says: str


def doubts(steps: Sequence[Step]) -> tuple[Doubt, ...]:
    """Return what speaks against the order of some steps.

    Takes:   the steps of one piece in the order shown; of two that do not wait for each other the first comes first.
    Returns: doubts in the order of their steps; none where all is well or nothing is known.
    Raises:  nothing.
    Source:  frame and panel: woodworking textbooks, as in the Wood Handbook (FPL-GTR-190) ch. 13 that panels move;
             balanced veneer: a trade forum on pressing veneer, common practice; 24 h of rest: the same, and
             a page on pressing veneer cold.

    >>> glue, oil = Step("a", "Glue up the door panel and frame", "glue-up"), Step("b", "Oil the door", "coat")
    >>> [len(doubts(order)) for order in ([glue, oil], [oil, glue])]
    [1, 0]
    """
    order = _Order(steps)
    found = [*_frames(steps, order), *_veneers(steps), *_hurried(steps)]
    return tuple(sorted(found, key=lambda doubt: order.places[doubt.key]))


class _Order:
    """What comes before what: by what waits for it, else as shown. Looked up where it is asked for, and once."""

    def __init__(self, steps: Sequence[Step]) -> None:
        self.places = {step.key: place for place, step in enumerate(steps)}
        self._waits = {step.key: step.after for step in steps}
        self._earlier: dict[str, set[str]] = {}

    def is_before(self, one: Step, other: Step) -> bool:
        if one.key in self._before(other.key):
            return True
        return other.key not in self._before(one.key) and self.places[one.key] < self.places[other.key]

    def _before(self, key: str) -> set[str]:
        """The keys of all steps that a step waits for in the end."""
        if key not in self._earlier:
            seen: set[str] = set()
            left = [*self._waits[key]]
            while left:
                one = left.pop()
                if one not in seen:
                    seen.add(one)
                    left += self._waits.get(one, ())
            self._earlier[key] = seen
        return self._earlier[key]


def _frames(steps: Sequence[Step], order: _Order) -> Iterator[Doubt]:
    for glued in steps:
        if not _closes(glued, steps):
            continue
        coats = [step for step in steps if step.kind in FINISHES and _is_of(step, glued)]
        if coats and not any(order.is_before(step, glued) for step in coats):
            yield Doubt(
                glued.key,
                f"“{glued.name}” puts the frame round its panel before the panel is finished: when it shrinks, an "
                "unfinished line shows. Finish the panel first, and never glue it in.",
            )


def _closes(glued: Step, steps: Sequence[Step]) -> bool:
    """Whether a glue-up puts a frame round a panel, and is not that of the panel itself."""
    if glued.kind != GLUE_UP:
        return False
    name = glued.name.casefold()
    is_frame = _FRAME.search(name) or (_FRAME.search(glued.words) and not _PANEL.search(name))
    return bool(is_frame) and any(_PANEL.search(step.words) and _is_near(step, glued) for step in steps)


def _is_near(step: Step, glued: Step) -> bool:
    """Whether a step is of the same part of the piece, or of panels that are a part by themselves."""
    return step.group == glued.group or bool(_PANEL.search(step.group.casefold()))


def _is_of(coat: Step, glued: Step) -> bool:
    """Whether a coat may be that of the panel: of its part, of the panel by name, or of the whole piece."""
    return not coat.group or _is_near(coat, glued) or bool(_PANEL.search(coat.words))


def _veneers(steps: Sequence[Step]) -> Iterator[Doubt]:
    veneers = [step for step in steps if step.kind == VENEER]
    for one in veneers:
        if not _ONE_FACE.search(one.name.casefold()) or _OTHER_FACE.search(one.name.casefold()):
            continue
        beside = [other for other in veneers if other is not one and other.group == one.group]
        if not any(_OTHER_FACE.search(other.name.casefold()) for other in beside):
            yield Doubt(
                one.key,
                f"“{one.name}” leaves the other face bare: unbalanced, it will cup. Veneer both faces in one go.",
            )


def _hurried(steps: Sequence[Step]) -> Iterator[Doubt]:
    """What is cut or sanded as soon as the press opens: the first such step after each press."""
    for pressed in steps:
        next_ones = (one for one in steps if pressed.key in one.after and kind(one.kind).dusty)
        hurried = next((one for one in next_ones if pressed.key not in one.rested), None) if pressed.pressed else None
        if hurried is not None:
            yield Doubt(
                hurried.key,
                f"“{hurried.name}” comes as soon as the press opens. Let the panels rest for 24 h first, stickered: "
                "heat and moisture even out, and what is cut or sanded before that shows later.",
            )
