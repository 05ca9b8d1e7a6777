"""A table of what was tried and found, small enough for a note."""

import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Figures:
    """One line of the table."""

    what: str
    rounds: int
    acknowledged: int
    found: int
    wrong: tuple[str, ...]
    seconds: float
    more: str = ""

    @property
    def lost(self) -> int:
        return self.acknowledged - self.found


HEAD = ("what", "rounds", "acknowledged", "found", "lost", "wrong", "seconds", "")


def table(lines: Iterable[Figures]) -> str:
    """Return the lines under their heads, as Markdown."""
    rows = [
        (one.what, one.rounds, one.acknowledged, one.found, one.lost, len(one.wrong), f"{one.seconds:.0f}", one.more)
        for one in lines
    ]
    cells = [HEAD, tuple("---" for _ in HEAD), *(tuple(map(str, row)) for row in rows)]
    return "\n".join(f"| {' | '.join(row)} |" for row in cells)


def timed(run: Callable[[], Figures]) -> Figures:
    began = time.monotonic()
    found = run()
    return Figures(**{**vars(found), "seconds": time.monotonic() - began})
