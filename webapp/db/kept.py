"""What was worked out last, so that a page does not do it again where nothing has changed."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from datetime import datetime, timedelta
from threading import Lock
from typing import Any, Generic, TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from webapp.db.mark import mark_of
from webapp.db.session import only_reads

LONGEST = timedelta(minutes=5)  # time itself moves a plan: what could begin at once and was not begun
MOST = 50  # of each kind

Made = TypeVar("Made")
Known = OrderedDict[Hashable, tuple[int, datetime, Made]]  # by key: the mark, the moment it was made for, what was made


class Kept(Generic[Made]):
    """What was made for a shop or a build: kept until something is written in the database, five minutes at most."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._of_database: WeakKeyDictionary[Any, Known[Made]] = WeakKeyDictionary()

    def of(self, db: Session, key: Hashable, now: datetime, make: Callable[[], Made]) -> Made:
        # the mark is read first: what is committed meanwhile may then be made once too often, but is never missed
        mark = mark_of(db) if only_reads(db) else None
        if mark is None:
            return make()
        with self._lock:
            known = self._of_database.setdefault(db.get_bind(), OrderedDict())
            kept = known.get(key)
        if kept is not None and kept[0] == mark and timedelta() <= now - kept[1] < LONGEST:
            return kept[2]
        made = make()
        with self._lock:
            known[key] = mark, now, made
            known.move_to_end(key)
            while len(known) > MOST:
                known.popitem(last=False)
        return made
