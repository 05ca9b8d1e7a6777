"""What a maker says he does, as lines of the journal. Each verb writes all its lines under ids that follow from one."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.journal import actions
from webapp.journal.bridge import closings
from webapp.journal.holds import TOO_EARLY
from webapp.journal.models import Entry
from webapp.journal.reading import entry_of
from webapp.journal.recent import doubtful
from webapp.journal.scene import Scene
from webapp.journal.time_sheet import MARGIN
from webapp.planning import labour
from webapp.planning.corrections import withdrawal
from webapp.planning.entry import WITHDRAWN, RecordError
from webapp.planning.labour import Question
from webapp.planning.record import State
from webapp.planning.spans import Span
from webapp.shops.document import open_hours
from webapp.shops.models import Shop

MINUTE = timedelta(minutes=1)


@dataclass(frozen=True, slots=True)
class Act:
    """Who does something, when, and under which id the page sends it."""

    id: str
    at: datetime
    now: datetime
    shop_id: int
    maker_id: int | None
    remembered: bool = False

    def data(self, **more: Any) -> dict[str, Any]:
        """Return the data of a line, without what is not known."""
        known = {key: value for key, value in more.items() if value not in (None, "")}
        return known | ({"remembered": True} if self.remembered else {})


def write(
    db: Session, act: Act, kind: str, operation: Operation | None = None, build: Build | None = None, **data: Any
) -> Entry:
    """Write one line for an act."""
    return actions.record(
        db,
        kind,
        id=act.id,
        at=act.at,
        now=act.now,
        shop_id=act.shop_id,
        maker_id=act.maker_id,
        operation=operation,
        build=build,
        data=act.data(**data),
    )


@dataclass(frozen=True)
class Clocks:
    """The clocks of a shop: those that run and are believed, and those to be asked about."""

    running: tuple[Span, ...]
    questions: tuple[Question, ...]

    def of(self, maker_id: int | None) -> list[Span]:
        return [span for span in self.running if span.maker == maker_id]


def clocks_in(shop: Shop, spans: Iterable[Span], now: datetime) -> Clocks:
    """Return which of these clocks run, and which are to be asked about."""
    doubtful = sorted(filter(labour.may_be_forgotten, spans), key=lambda span: (span.start, span.began.id))
    first = min((span.alive for span in doubtful), default=now)
    shut = closings(open_hours(shop, first), first, now + MARGIN) if doubtful else []
    asked = labour.forgotten(doubtful, shut, now, shop.zone)
    forgotten = {question.span for question in asked}
    return Clocks(tuple(span for span in doubtful if span.end is None and span not in forgotten), asked)


def clocks_of(db: Session, shop: Shop, now: datetime) -> Clocks:
    """Return the clocks of a shop that were started lately."""
    return clocks_in(shop, doubtful(db, shop.id, now), now)


def start(
    db: Session,
    act: Act,
    operation: Operation,
    scene: Scene,
    beside: Clocks,
    reason: str = "",
    flags: Iterable[str] = (),
) -> Entry:
    """Start an operation, or go on with it; other running clocks of the maker given in `beside` are paused.

    With a reason it is started in spite of what the flags name.
    """
    state = scene.state(operation)
    kind = "resumed" if state.state is State.PAUSED else "started"
    in_spite = sorted(set(flags))
    begun = write(db, act, kind, operation, early=reason if TOO_EARLY in in_spite else "")
    for flag in in_spite:
        actions.record(
            db,
            "overruled",
            id=f"{act.id}.{'early' if flag == TOO_EARLY else flag}",
            at=act.at,
            now=act.now,
            shop_id=act.shop_id,
            maker_id=act.maker_id,
            operation=operation,
            data={"flag": flag, "reason": reason},
        )
    pause_others(db, begun, beside)
    return begun


def pause_others(db: Session, begun: Entry, clocks: Clocks) -> None:
    for entry in labour.pauses(entry_of(begun), clocks.running):
        actions.keep(db, entry, begun.shop_id)


def done(db: Session, act: Act, operation: Operation, scene: Scene, minutes: int | None = None) -> Entry:
    """End the hands-on work; the wait begins with the figures of now, unless tight clamps began it."""
    label = scene.label(operation)
    return write(db, act, "done", operation, minutes=minutes, figures=label.id if label else None)


def clamps(db: Session, act: Act, operation: Operation, scene: Scene) -> Entry:
    """Say that the clamps are tight: the wait begins."""
    label = scene.label(operation)
    return write(db, act, "clamped", operation, figures=label.id if label else None)


def undo(db: Session, act: Act, wrong: Entry) -> Entry | None:
    """Take a line back with all that was written together with it; None where it was taken back before."""
    together = select(Entry).where(
        Entry.shop_id == wrong.shop_id, or_(Entry.id == wrong.id, Entry.id.startswith(f"{wrong.id}.", autoescape=True))
    )
    first = None
    for row in db.scalars(together.order_by(Entry.id)).all():
        if not _is_withdrawn(db, row.shop_id, row.id):
            entry = withdrawal(entry_of(row), act.id + row.id.removeprefix(wrong.id), arrived=act.now)
            kept = actions.keep(db, entry, act.shop_id)
            first = first or kept
    return first


def _is_withdrawn(db: Session, shop_id: int, entry_id: str) -> bool:
    """Whether a line is taken back, and the taking back is not itself taken back."""
    withdrawn = Entry.corrects == entry_id, Entry.kind == WITHDRAWN, Entry.shop_id == shop_id
    withdrawals = db.scalars(select(Entry.id).where(*withdrawn)).all()
    return any(not _is_withdrawn(db, shop_id, found) for found in withdrawals)


def check_not_before(spans: Iterable[Span], at: datetime) -> None:
    """Raise RecordError where a clock would stop before it was started."""
    if any(span.end is None and at < span.start - MINUTE for span in spans):
        raise RecordError("it cannot have ended before it was started: give a later time")
