"""The only place that writes the journal, and what other rooms may ask of it."""

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.builds.steps import Step, pieces_of
from webapp.db.folding import fold
from webapp.db.kept import Kept
from webapp.journal import scene as scenes
from webapp.journal.bridge import closings
from webapp.journal.models import Entry
from webapp.journal.reading import read_mended
from webapp.journal.states import states_of
from webapp.journal.time_sheet import CLOCK_KINDS, MARGIN
from webapp.journal.waits import Wait, waits_of
from webapp.planning import entry as planning
from webapp.planning import labour as clocks
from webapp.planning.labour import Labour
from webapp.planning.record import OperationState
from webapp.shops.document import open_hours
from webapp.shops.models import Shop

AT_WORK = ("agreed", "in the making")  # their operations are on the bench whenever something last happened to them
RECENT = timedelta(days=30)
LONGEST_ID = 200
SEARCHED = ("note", "reason", "shop_time", "stage", "early")
_stages: Kept[scenes.Stage] = Kept()


def record(
    db: Session,
    kind: str,
    *,
    id: str,  # noqa: A002
    at: datetime,
    now: datetime,
    shop_id: int,
    maker_id: int | None,
    operation: Operation | None = None,
    build: Build | None = None,
    data: Mapping[str, Any] | None = None,
    corrects: str | None = None,
) -> Entry:
    """Write one line and return it; the same id again returns the line that is there.

    Raises planning's RecordError for a line that the journal cannot take.
    """
    operation_id, build_id = None, None if build is None else build.id
    if operation is not None:
        operation_id, build_id = operation.id, operation.build_id
    entry = planning.Entry(id, at, now, kind, maker_id, operation_id, build_id, dict(data or {}), corrects)
    return keep(db, entry, shop_id)


def keep(db: Session, entry: planning.Entry, shop_id: int) -> Entry:
    """Store a line made by planning; the same id again returns the line that is there."""
    found = db.get(Entry, entry.id)
    if found is None:
        try:
            with db.begin_nested():
                found = _row(entry, shop_id)
                db.add(found)
        except IntegrityError:  # the same line came in at this very moment by another way
            found = db.get(Entry, entry.id)
    if found is None or found.shop_id != shop_id or len(entry.id) > LONGEST_ID:
        raise planning.RecordError("this line could not be taken: load the page again and repeat it")
    return found


def _row(entry: planning.Entry, shop_id: int) -> Entry:
    words = [text for text in (entry.word(key) for key in SEARCHED) if text]
    return Entry(
        id=entry.id,
        shop_id=shop_id,
        build_id=entry.build,
        operation_id=entry.operation,
        maker_id=entry.maker,
        kind=entry.kind,
        at=entry.at,
        arrived_at=entry.arrived,
        corrects=entry.corrects,
        data=dict(entry.data),
        folded=fold(" ".join(words)),
    )


def states(db: Session, operations: Collection[Operation | Step], now: datetime) -> dict[int, OperationState]:
    """Return what the journal says of each of these operations, of those not begun as well; one query."""
    folded = states_of(db, {operation.build_id for operation in operations}, now)
    return {operation.id: folded.get(operation.id) or OperationState(as_of=now) for operation in operations}


def labour_of(db: Session, shop: Shop, now: datetime, *, build_id: int | None = None) -> Labour:
    """Return the labour of the shop: what is booked, what ran at once, which clocks are to be asked about.

    With a build, of the time in which somebody worked on it: everybody's clocks of that time are looked at, since one
    build's alone cannot show an overlap; take the stretches whose build is that one.
    """
    conditions = [Entry.shop_id == shop.id, Entry.kind.in_(CLOCK_KINDS)]
    if build_id is not None:
        when = select(func.min(Entry.at), func.max(Entry.at)).where(Entry.build_id == build_id)
        bounds = db.execute(when.group_by(Entry.build_id)).one_or_none()
        if bounds is None:
            return Labour((), (), (), ())
        first, last = bounds
        conditions.append(Entry.at.between(first - MARGIN, last + MARGIN))
    entries = read_mended(db, shop.id, *conditions)
    first = min((entry.at for entry in entries), default=now)
    hours = open_hours(shop, first)
    return clocks.labour(entries, now, closings(hours, first, now + MARGIN), shop.zone)


def scene(db: Session, shop: Shop, now: datetime) -> scenes.Scene:
    """Return what is at work in the shop: the builds in the making, and those that something happened to lately."""
    stage = _stages.of(db, shop.id, now, lambda: _stage(db, shop, now))
    return scenes.Scene(now, shop.zone, stage, states_of(db, stage.builds, now))


def _stage(db: Session, shop: Shop, now: datetime) -> scenes.Stage:
    lately = select(Entry.build_id).where(
        Entry.shop_id == shop.id, Entry.at >= now - RECENT, Entry.build_id.is_not(None)
    )
    is_at_work = or_(Build.status.in_(AT_WORK), Build.id.in_(lately))
    pieces = pieces_of(db, Build.shop_id == shop.id, is_at_work)
    return scenes.set_up(db, shop, pieces, states_of(db, [piece.id for piece in pieces], now), now)


def waits(db: Session, shop: Shop, now: datetime) -> list[Wait]:
    """Return the waits that run in the shop, or whose end nobody has answered for, by next end."""
    seen = scene(db, shop, now)
    found = [wait for operation in seen.operations for wait in waits_of(seen, operation)]
    return sorted(found, key=lambda wait: wait.next_end(now))
