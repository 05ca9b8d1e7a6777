"""The clocks of the last days that run or ran long, kept (see `kept.py`) under the lines of those days."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, time

from sqlalchemy.orm import Session

from webapp.journal.actions import RECENT
from webapp.journal.kept import kept
from webapp.journal.models import Entry
from webapp.journal.reading import EVER, Told, read_mended, told
from webapp.journal.time_sheet import CLOCK_KINDS
from webapp.planning.corrections import effective
from webapp.planning.labour import may_be_forgotten
from webapp.planning.spans import Span, worked_spans

Spans = tuple[Span, ...]


@dataclass(frozen=True)
class Lines:
    """The lines of a shop since some midnight, and all its corrections."""

    shop_id: int
    since: datetime
    told: tuple[Told, ...]


def doubtful(db: Session, shop_id: int, now: datetime) -> Spans:
    """Return the clocks started of late that are to be held against the closing of their day: one query mostly.

    Those are kept unless a line is still to come, by a phone whose clock runs ahead.
    """
    since = datetime.combine(now - RECENT, time(), now.tzinfo)
    key = Lines(shop_id, since, told(db, shop_id, (since, EVER)))

    def make(_: list[Lines]) -> Mapping[Lines, tuple[Spans, bool]]:
        entries = read_mended(db, shop_id, Entry.shop_id == shop_id, Entry.at >= since, Entry.kind.in_(CLOCK_KINDS))
        found = tuple(filter(may_be_forgotten, worked_spans(effective(entries), now)))
        return {key: (found, all(entry.at <= now for entry in entries))}

    return kept(db, [key], make)[key]
