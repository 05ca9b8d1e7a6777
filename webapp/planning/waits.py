"""The parts of a wait as a maker sees them: in clamps, wet or curing, resting. When each ends is told by the cure clock
(`trade/waits/cure.py`); this module only says which of its stages part the wait, and until when it matters to anybody.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from enum import StrEnum


class Mark(StrEnum):
    """How a part of a wait is drawn and said."""

    CLAMPED = "clamped"
    CURING = "curing"
    RESTING = "resting"


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a wait: from and until, and the stage it ends with. Instants are minutes since 1970 UTC."""

    mark: Mark
    begin: int
    end: int
    stage: str


def parts(
    begin: int, ends: Mapping[str, int | None], use: str | None, held: Collection[str], wanted: Collection[str]
) -> tuple[Part, ...]:
    """Return the parts of a wait that matter to somebody, in order.

    Takes:   when the wait began; the end of each stage, None where it is never reached; "glue", "finish" or None for a
             wait of its own; the stages equipment is held until; the stages that something else waits for.
    Returns: parts that follow one another. A glued piece is in clamps until the stage its clamps are held for (else its
             first stage) and rests from then on; a finish cures, wood rests, until the last stage that is waited for
             (else the first one).
    Raises:  nothing.
    Source:  common practice, no source.

    >>> ends = {"out of clamps": 60, "ready to plane": 600, "full strength": 1440}
    >>> [(part.mark.value, part.end) for part in parts(0, ends, "glue", ["out of clamps"], ["ready to plane"])]
    [('clamped', 60), ('resting', 600)]
    """
    reached = sorted((end, name) for name, end in ends.items() if end is not None and end > begin)
    if not reached:
        return ()
    found: list[Part] = []
    if use == "glue":
        end, name = next((stage for stage in reached if stage[1] in held), reached[0])
        found.append(Part(Mark.CLAMPED, begin, end, name))
    last = max((stage for stage in reached if stage[1] in wanted), default=None)
    if found:
        if last and last[0] > found[0].end:
            found.append(Part(Mark.RESTING, found[0].end, *last))
    else:
        end, name = last or reached[0]
        found.append(Part(Mark.CURING if use == "finish" else Mark.RESTING, begin, end, name))
    return tuple(found)
