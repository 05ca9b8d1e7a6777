"""What shop practice calls a clearance: names and limits for each kind of joint, all of them to be changed by the shop.

Common practice, no source: the limits are what makers feel, not what anybody measured. One has a figure beside it: two
glue lines of 0.15 mm, the thickest that the Wood Handbook (FPL-GTR-190, ch. 10) counts among the strongest, make the
0.3 mm up to which a tenon is still called easy.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from types import MappingProxyType

from webapp.trade.sources import PRACTICE

SOURCE = PRACTICE.name


class FitError(ValueError):
    """A fit that cannot be judged; the text says what to write."""


STAYS_OUT = "does not go in"


@dataclass(frozen=True)
class FitClass:
    """A name for clearances under so many nanometres (None: and all above), and what to do about it."""

    name: str
    under: int | None
    advice: str

    @property
    def stays_out(self) -> bool:
        """Whether the piece cannot go into its opening."""
        return self.name == STAYS_OUT


def _classes(*rows: tuple[str, float | None, str]) -> tuple[FitClass, ...]:
    return tuple(
        FitClass(name, None if under is None else round(under * 1_000_000), advice) for name, under, advice in rows
    )


# Limits in millimetres of clearance: the opening less what goes in; under 0 it is larger than its opening.
KINDS = MappingProxyType(
    {
        "tenon in mortise": _classes(
            (STAYS_OUT, -0.1, "Pare the tenon. Driven in, it splits the mortise."),
            ("tight", 0, "It needs the mallet, which wipes the glue off. Take a shaving off the tenon."),
            ("snug", 0.15, "Right for glue: it goes in by hand and stays."),
            ("easy", 0.3, "Still good for glue if it is held straight."),
            ("loose", None, "Most glues do not bridge it. Glue a shaving on the tenon and fit it again."),
        ),
        "board in dado": _classes(
            (STAYS_OUT, -0.1, "Widen the dado or thin the edge of the board."),
            ("tight", 0, "It needs the mallet, which wipes the glue off. Take a shaving off."),
            ("snug", 0.15, "Right for glue: it goes in by hand and stays."),
            ("easy", 0.3, "Still good for glue if the board is held square."),
            ("loose", None, "It shows, and glue does not bridge it. Use a cutter of the board's own thickness."),
        ),
        "panel in groove": _classes(
            (STAYS_OUT, 0, "Thin the edge of the panel or widen the groove."),
            ("binds", 0.1, "A coat of finish or a damp month locks it. Take a shaving off the edge."),
            ("slides", 0.3, "Right: the panel can move and does not rattle."),
            ("loose", 0.8, "It may rattle. Soft spacers in the groove hold it."),
            ("rattles", None, "Too loose to look right. Make the edge thicker or the groove narrower."),
        ),
        "dowel in hole": _classes(
            (STAYS_OUT, -0.15, "Use the bit of the dowel's own size."),
            ("tight", 0, "Driven in, it wipes the glue off and may split the wood. Use the bit of its own size."),
            ("snug", 0.15, "Right for glue: it goes in by hand."),
            ("loose", None, "Most glues do not bridge it. Use the bit of the dowel's own size."),
        ),
        "pin in hole": _classes(
            (STAYS_OUT, 0, "Use the bit of the pin's own size."),
            ("snug", 0.1, "It stays in by itself and comes out by hand."),
            ("easy", 0.3, "Right for shelves that are moved often."),
            ("loose", None, "It drops out and the shelf tilts. Use the bit of the pin's own size."),
        ),
        "hinge cup in hole": _classes(
            (STAYS_OUT, 0, "Use the bit of the cup's own size."),
            ("seats", 0.4, "Right: the screws hold it."),
            ("loose", None, "The hinge can shift. Use the bit of the cup's own size."),
        ),
        "drawer in opening": _classes(
            (STAYS_OUT, 0, "Plane the drawer."),
            ("sticks", 0.5, "Plane the drawer until it runs."),
            ("close", 1.5, "It runs today. Look at what a damp month does to it."),
            ("runs", 3, "Right for most drawers."),
            ("gap shows", None, "It runs, and the gap is seen."),
        ),
        "door in frame": _classes(
            (STAYS_OUT, 0, "Plane the door."),
            ("sticks", 1, "Plane the door until it swings clear."),
            ("close", 3, "It swings today. Look at what a damp month does to it."),
            ("swings", 5, "Right for most doors: the gap of both sides together."),
            ("gap shows", None, "It swings, and the gap is seen."),
        ),
    }
)


def classes(kind: str, limits: Sequence[int] | None = None) -> tuple[FitClass, ...]:
    """Return the names of clearances for a kind of joint, with the shop's own limits if it has any.

    Takes:   a key of KINDS; the shop's limits in nanometres, one for each class but the last, each above the one
             before it, or none for those of KINDS.
    Returns: classes, the tightest first; the last has no limit.
    Raises:  FitError for another kind, and for limits that are too many, too few or out of order.
    Source:  SOURCE.

    >>> [one.name for one in classes("pin in hole")]
    ['does not go in', 'snug', 'easy', 'loose']
    """
    if kind not in KINDS:
        raise FitError(f"“{kind}” is no fit that is known here. It is one of {', '.join(KINDS)}.")
    usual = KINDS[kind]
    if limits is None:
        return usual
    if len(limits) != len(usual) - 1:
        raise FitError(f"Give {len(usual) - 1} limits, one for each but “{usual[-1].name}”.")
    if any(below >= above for below, above in pairwise(limits)):
        raise FitError("Each limit must be above the one before it.")
    return tuple(replace(one, under=limit) for one, limit in zip(usual, (*limits, None), strict=True))
