"""Who was free when: work is laid into the shop's hours, one thing at a time for each person."""

from bisect import insort
from collections.abc import Iterator
from random import Random

from webapp.invented.script import HELPER, OWNER
from webapp.planning.hours import Hours
from webapp.planning.network import Shop
from webapp.planning.openings import Openings

Span = tuple[int, int]
BREATH = 6  # minutes between two things
SHORTEST = 20  # nobody begins for less
AHEAD = 120 * 24 * 60


class Diary:
    """The hours of two people, filled as we go. Instants are minutes since 1970 UTC."""

    def __init__(self, shop: Shop, rng: Random) -> None:
        self.hours = Hours(shop)
        self._rng = rng
        self._in = {OWNER: self.hours.of_maker(0), HELPER: self.hours.of_maker(1)}
        self._busy: dict[str, list[Span]] = {OWNER: [], HELPER: []}

    def openings(self, who: str) -> Openings:
        return self._in[who]

    def whole(self, who: str, start: int, minutes: int, tail: int = 0) -> list[Span]:
        """Lay work of one piece, with some open time after it in which one may still look at it."""
        for begin, end in self._free(who, start):
            if end - begin >= minutes + tail:
                return self._lay(who, [(begin, begin + minutes)])
        raise LookupError("no day is long enough for this")

    def parted(self, who: str, start: int, minutes: int) -> list[Span]:
        """Lay work that pauses when the shop shuts or something else is on."""
        spans, left = [], minutes
        for begin, end in self._free(who, start):
            if end - begin >= min(left, SHORTEST):
                spans.append((begin, min(end, begin + left)))
                left -= spans[-1][1] - begin
            if not left:
                break
        return self._lay(who, spans)

    def _lay(self, who: str, spans: list[Span]) -> list[Span]:
        for begin, end in spans:
            insort(self._busy[who], (begin - BREATH, end + BREATH))
        return spans

    def _free(self, who: str, start: int) -> Iterator[Span]:
        for opens, closes in self._in[who].between(start, start + AHEAD):
            begin = opens + self._rng.randint(2, 11) if opens > start else opens
            end = closes - self._rng.randint(0, 4)
            for busy_from, busy_to in [span for span in self._busy[who] if span[0] < end and span[1] > begin]:
                if busy_from > begin:
                    yield begin, busy_from
                begin = max(begin, busy_to)
            if end > begin:
                yield begin, end
