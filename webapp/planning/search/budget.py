"""How many passes a search may still make; whoever lays out a list counts it here."""

from collections.abc import Callable


class Budget:
    """A number of passes, and perhaps somebody who says stop.

    One pass lays all activities out once: forward, pushed to the right or pushed to the left. Published results count
    schedules in the same way.

    Takes:   the number of passes; what is asked before each pass whether it is enough (a deadline, say).
    Returns: `spent` and `left` in passes; `left` is 0 once it was enough.
    Raises:  ValueError when a pass is made that nobody has.
    Source:  Kolisch, Hartmann, EJOR 174 (2006) 23-37: compare methods by the number of schedules.

    >>> budget = Budget(2)
    >>> budget.spend()
    >>> budget.spent, budget.left
    (1, 1)
    """

    def __init__(self, passes: int, is_enough: Callable[[], bool] = lambda: False) -> None:
        self.passes, self.spent, self._is_enough = passes, 0, is_enough

    @property
    def left(self) -> int:
        """How many passes may still be made."""
        return 0 if self._is_enough() else self.passes - self.spent

    def spend(self) -> None:
        """Count one pass."""
        if self.spent >= self.passes:
            raise ValueError(f"The budget of {self.passes} passes is used up.")
        self.spent += 1
