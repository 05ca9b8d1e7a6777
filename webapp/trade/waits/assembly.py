"""The time there is to put a joint together: open from the first glue on, closed until the clamps are tight.

Two times of their own: a joint that is closed in the open time still has to come under pressure in the closed one.
Warmth shortens both, cold lengthens neither.

Not modelled: dry air, thin spread, how hard the wood drinks.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil

from webapp.trade.air.pace import Pace

_SECOND = 1 / 60  # of a minute: less is not too long


@dataclass(frozen=True, slots=True)
class Assembly:
    """The time a glue gives: minutes open, and minutes closed (None: nobody says)."""

    open: float
    closed: float | None = None

    def spare(self, minutes: float) -> float:
        """Return how much of the open time is left after an assembly of so many minutes; under 0 where it lacks.

        Takes: minutes, as a dry run took. Returns: minutes. Raises: nothing. Source: arithmetic.

        >>> Assembly(open=20).spare(18)
        2
        """
        return self.open - minutes

    def parts(self, minutes: float) -> int:
        """Return into how many glue-ups an assembly has to be split.

        Takes:   minutes, as a dry run took.
        Returns: 1 where it fits; less than a second too long still fits.
        Raises:  nothing.
        Source:  the shop document, flag `open-time`; the trade glues a base up pair by pair (a woodworking magazine).

        >>> Assembly(open=10).parts(18), Assembly(open=20).parts(18)
        (2, 1)
        """
        return max(1, ceil((minutes - _SECOND) / self.open))


def assembly(open_minutes: float, pace: Pace, temperature: float | None, closed: float | None = None) -> Assembly:
    """Return the time a glue gives at a temperature.

    Takes:   the label's open time in minutes; the pace of the glue; °C at the start, None where it is not known; the
             label's closed time in minutes, where it says one.
    Returns: the times, shorter in the warmth by the rule of the waits, and never longer than the label's.
    Raises:  nothing.
    Source:  the shop document, rule 3, "Open time"; common practice, no source.

    >>> assembly(20, Pace(rated_at=70, doubles_per=15), 85, closed=10)
    Assembly(open=10.0, closed=5.0)
    """
    faster = 1.0 if temperature is None else pace.warmth(temperature)
    return Assembly(open_minutes / faster, None if closed is None else closed / faster)


def slower(minutes: float, glues: Mapping[str, Assembly]) -> tuple[str, ...]:
    """Return the glues that give time enough for an assembly.

    Takes:   minutes, as a dry run took; what each glue gives, by its name.
    Returns: names, the one with the least to spare first; of the same time by name.
    Raises:  nothing.
    Source:  shop rule: the least slow glue that fits also leaves the clamps the soonest.

    >>> slower(18, {"hide": Assembly(open=20), "yellow": Assembly(open=10), "PU": Assembly(open=30)})
    ('hide', 'PU')
    """
    fit = [(given.open, name) for name, given in glues.items() if given.parts(minutes) == 1]
    return tuple(name for _, name in sorted(fit))
