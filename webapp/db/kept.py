"""What was worked out last, one a shop, so that a page does not do it again where nothing has changed."""

from collections import OrderedDict
from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Lock
from typing import Any, Generic, TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

from webapp.db.mark import mark_of
from webapp.db.session import only_reads

LONGEST = timedelta(minutes=5)  # time itself moves a plan: what could begin at once and was not begun
MOST = 50  # shops

Made = TypeVar("Made")


class Kept(Generic[Made]):
    """What was made for a shop: kept until something is written in the database, and five minutes at most."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._of_database: WeakKeyDictionary[Any, OrderedDict[int, tuple[int, datetime, Made]]] = WeakKeyDictionary()

    def of(self, db: Session, shop_id: int, now: datetime, make: Callable[[], Made]) -> Made:
        # the mark is read first: what is committed meanwhile may then be made once too often, but is never missed
        mark = mark_of(db) if only_reads(db) else None
        if mark is None:
            return make()
        with self._lock:
            shops = self._of_database.setdefault(db.get_bind(), OrderedDict())
            kept = shops.get(shop_id)
        if kept is not None and kept[0] == mark and timedelta() <= now - kept[1] < LONGEST:
            return kept[2]
        made = make()
        with self._lock:
            shops[shop_id] = mark, now, made
            shops.move_to_end(shop_id)
            while len(shops) > MOST:
                shops.popitem(last=False)
        return made
