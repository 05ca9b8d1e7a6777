"""When everything in the invented shop happened, seen from now: pure, from the tables, the hours and a seed.

Work of the past lies in the shop's hours. Work of today is laid backwards from now, so that its clocks and waits run
whenever somebody looks; should the shop be shut, the makers are working late.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from random import Random
from typing import Any

from webapp.invented import place
from webapp.invented.diary import Diary, Span
from webapp.invented.script import OWNER, Live, Piece, Shot, Step
from webapp.invented.waits import SLOWER, dry_after, hours_of, open_seconds, tend_of
from webapp.planning import instants
from webapp.planning.instants import DAY
from webapp.trade.kinds import kind
from webapp.trade.products.families import LIGHT_USE, OUT_OF_CLAMPS, READY_TO_PLANE

SEED = "Owlgate"
TODAY = 3 * 60  # minutes before now that belong to the work of today


@dataclass(frozen=True)
class Event:
    """A line of the journal to be."""

    at: datetime
    kind: str
    step: str | None = None
    who: str = OWNER
    data: Mapping[str, Any] = field(default_factory=dict)
    of_start: bool = False  # written together with the line before


@dataclass(frozen=True)
class Taken:
    """A picture, when it was taken, and of which step."""

    shot: Shot
    at: datetime
    step: str | None


@dataclass
class Laid:
    """A piece with its events and pictures."""

    piece: Piece
    begun: datetime
    events: list[Event] = field(default_factory=list)
    taken: list[Taken] = field(default_factory=list)
    delivered: date | None = None


@dataclass
class Timeline:
    """All pieces, and the shop's own time."""

    pieces: list[Laid]
    shop_time: list[Event]


def lay(pieces: Sequence[Piece], zone: str, now: datetime) -> Timeline:
    """Return when everything happened; the same for the same minute and zone."""
    diary = Diary(place.planned(zone), Random(SEED))
    laid = [_Layer(diary, piece, now).laid() for piece in sorted(pieces, key=lambda piece: -piece.begun)]
    return Timeline(laid, list(_shop_time(diary, now)))


def _shop_time(diary: Diary, now: datetime) -> Iterator[Event]:
    """Every other week something that is no build's work."""
    end = instants.cut(now)
    for number in range(18):
        start = end - (250 - 14 * number) * DAY
        (begin, until), *_ = diary.whole(OWNER, start, 25 + 10 * (number % 4))
        what = {"shop_time": place.SHOP_TIMES[number % len(place.SHOP_TIMES)]}
        yield Event(instants.moment(begin), "started", data=what)
        yield Event(instants.moment(until), "paused", data=what)


class _Layer:
    """Lays one piece: each step as soon as what it waits for allows."""

    def __init__(self, diary: Diary, piece: Piece, now: datetime) -> None:
        self.diary, self.piece, self.now = diary, piece, instants.cut(now)
        self.steps = {step.key: step for step in piece.steps}
        self.done: dict[str, int] = {}
        self.waits: dict[str, int] = {}  # when the wait of a step began
        self.off: dict[str, int] = {}  # when its clamps came off
        first = diary.openings(OWNER).next_open(self.now - round(piece.begun * DAY))
        self.begun = first if first is not None and first < self.now else self.now - 60
        self.out = Laid(piece, instants.moment(self.begun, diary.hours.zone))

    def laid(self) -> Laid:
        for note in self.piece.notes:
            self._say(self._open(note.share), note.kind, None, note=note.text)
        for shot in self.piece.shots:
            self._take(shot, self._open(shot.days) + 5, None)
        for step in self.piece.steps:
            if step.real is not None:
                self._past(step)
            if step.live is not None:
                self._today(step, step.live)
        self.out.events.sort(key=lambda event: event.at)
        return self.out

    def _open(self, days: float) -> int:
        """The first minute so many days after the beginning in which somebody is in."""
        at = self.begun + round(days * DAY)
        found = self.diary.openings(OWNER).next_open(at)
        return found if found is not None and found < self.now else min(at, self.now - 10)

    # ---- work of the past

    def _past(self, step: Step) -> None:
        start = self._earliest(step)
        self._look(step, start)
        spans = self._spans(step, start)
        if step.remembered:
            self._remembered(step, spans)
        else:
            self._clocked(step, spans)
        self._said(step, spans)
        if step.live is None and not step.given_up:
            self._wait(step, spans[-1][1])

    def _spans(self, step: Step, start: int) -> list[Span]:
        who, real = step.by, step.real or 0
        if step.ended is not None:
            start = max(start, self._so_that_it_ends(step))
        if kind(step.kind).split:
            return self.diary.parted(who, start, real)
        tail = max((at + within for _, at, within in tend_of(step.product)), default=0)
        return self.diary.whole(who, start, real, min(tail, 85))

    def _so_that_it_ends(self, step: Step) -> int:
        """When to begin so that the wait ends that many hours from now: the nearest open time to it."""
        hours = hours_of(step)
        long = hours.get(READY_TO_PLANE) or hours[LIGHT_USE]
        wanted = self.now + round(((step.ended or 0) - long) * 60) - (step.real or 0)
        openings = self.diary.openings(step.by)
        before = openings.last_before(wanted)
        if before is not None and wanted - before < 10 * 60:
            return before - 150
        return wanted

    def _earliest(self, step: Step) -> int:
        found = [self.begun]
        for name in step.after:
            earlier, _, stage = name.partition(": ")
            earlier = self._in_place(earlier)
            found.append(self._reached(earlier, stage, early=bool(step.early)) if stage else self.done[earlier])
        if step.over:
            found.append(self.done[step.over] + round(dry_after(self.steps[step.over].product) * 60 * SLOWER))
        pause = 0 if step.early or not self.done else self.piece.pace
        return max(found) + round((step.days + pause) * DAY) + 4

    def _in_place(self, key: str) -> str:
        """Of a step that was given up, the one that did it again."""
        if not self.steps[key].given_up:
            return key
        return next((step.key for step in self.piece.steps if step.again_for == key), key)

    def _reached(self, key: str, stage: str, *, early: bool) -> int:
        hours = hours_of(self.steps[key])[stage]
        if early:
            return self.waits[key] + round(hours * 60) - 25
        end = self.waits[key] + round(hours * 60 * SLOWER)
        return max(end, self.off[key] + 3) if stage == OUT_OF_CLAMPS and key in self.off else end

    def _look(self, step: Step, start: int) -> None:
        """Before the next layer, or work that waits for a finish, somebody touches it."""
        looked = [(step.over, "dry")] if step.over else []
        looked += [(name.partition(": ")[0], name.partition(": ")[2]) for name in step.after if "use" in name]
        for key, stage in looked:
            at = self.diary.openings(OWNER).next_open(start - 3) or start
            if self.steps[key].tacky:
                self._say(at - 240, "dry-tested", key, stage=stage, answer="tacky",
                          again_at=instants.moment(at - 10).isoformat())  # fmt: skip
            self._say(at, "dry-tested", key, stage=stage, answer="dry")

    def _clocked(self, step: Step, spans: Sequence[Span]) -> None:
        worked, whole = 0, sum(end - begin for begin, end in spans)
        for number, (begin, end) in enumerate(spans):
            if step.early and number == 0:
                self._say(begin, "started", step.key, step.by, early=step.early)
                self._say(begin, "overruled", step.key, step.by, flag="too-early", reason=step.early, of_start=True)
            else:
                self._say(begin, "resumed" if number else "started", step.key, step.by)
            worked += end - begin
            if step.count > 1:
                self._say(end - 1, "counted", step.key, step.by, done=step.count * worked // whole)
            if number < len(spans) - 1:
                self._say(end, "paused", step.key, step.by)
        self._ended(step, spans[-1][1])

    def _ended(self, step: Step, end: int) -> None:
        if step.live is not None:
            self._say(end, "paused", step.key, step.by)
        elif step.given_up:
            self._say(end, "abandoned", step.key, step.by, reason=step.given_up)
        else:
            if step.holds:
                self._say(end - 3, "clamped", step.key, step.by)
            self._say(end, "done", step.key, step.by)
            if step.kind == "deliver":
                self.out.delivered = instants.moment(end, self.diary.hours.zone).date()

    def _remembered(self, step: Step, spans: Sequence[Span]) -> None:
        end = spans[-1][1]
        day = instants.moment(end, self.diary.hours.zone).date().isoformat()
        self._say(end, "done", step.key, step.by, minutes=step.real, day=day)

    def _wait(self, step: Step, end: int) -> None:
        self.done[step.key] = end
        self.waits[step.key] = end - 3 if step.holds and not step.remembered else end
        for name, at, within in tend_of(step.product):
            if end + at + within < self.now - TODAY:
                self._say(end + at + within // 2, "tended", step.key, step.by, key=name)
        hours = hours_of(step)
        if step.holds and OUT_OF_CLAMPS in hours:
            over = self.waits[step.key] + round(hours[OUT_OF_CLAMPS] * 60 * SLOWER)
            off = self.diary.openings(OWNER).next_open(over + 5) or over
            if off < self.now - TODAY:
                self.off[step.key] = off
                self._say(off, "reached", step.key, OWNER, stage=OUT_OF_CLAMPS)

    def _said(self, step: Step, spans: Sequence[Span]) -> None:
        for note in step.notes:
            self._say(_at(spans, note.share), note.kind, step.key, step.by, note=note.text)
        for size in step.measured:
            self._say(_at(spans, size.share), "sized", None, step.by, measured=size)
        for shot in step.shots:
            self._take(shot, _at(spans, shot.share) + 1, step.key)

    # ---- work of today

    def _today(self, step: Step, live: Live) -> None:
        begin = self.now - live.begin
        if live.end is None:
            begin = max(begin, self._last_closing())
        self._say(begin, "resumed" if step.real else "started", step.key)
        if live.spread is not None:
            self._say(self.now - live.spread, "spread", step.key, OWNER, of_start=False, **open_seconds(step.product))
        if live.clamped is not None:
            self._say(self.now - live.clamped, "clamped", step.key)
        if live.end is not None:
            self._say(self.now - live.end, "done", step.key)
        for key, at in live.tended:
            self._say(self.now - at, "tended", step.key, key=key)
        if not step.real:
            self._said(step, [(begin, self.now - (live.end or 0) - 2)])

    def _last_closing(self) -> int:
        """A clock that ran past closing would be asked about: it was started after that."""
        today = instants.moment(self.now, self.diary.hours.zone).date()
        closing = self.diary.hours.last_closing(today)
        midnight = self.diary.hours.midnight(today)
        return closing if closing is not None and closing <= self.now else midnight

    def _say(self, at: int, kind_: str, step: str | None, who: str = OWNER, *, of_start: bool = False,
             **data: Any) -> None:  # fmt: skip
        self.out.events.append(Event(instants.moment(at), kind_, step, who, data, of_start))

    def _take(self, shot: Shot, at: int, step: str | None) -> None:
        self.out.taken.append(Taken(shot, instants.moment(min(at, self.now - 1), self.diary.hours.zone), step))


def _at(spans: Sequence[Span], share: float) -> int:
    """The minute by which a share of the work was done."""
    left = round(share * sum(end - begin for begin, end in spans))
    for begin, end in spans:
        if left <= end - begin:
            return begin + left
        left -= end - begin
    return spans[-1][1]
