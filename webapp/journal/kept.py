"""What was worked out of the journal, kept by what it was made of, so that it cannot be out of date.

The journal only grows: how many lines there are of some days or of a build, and when the last of them arrived, says
which they are. Who asks works that key out anew each time; other lines make another key, and nobody has to be told of
a change. Nothing is kept over a restart, and each process has its own.
"""

from collections import OrderedDict
from collections.abc import Callable, Collection, Hashable, Mapping
from threading import Lock
from typing import Any, TypeVar
from weakref import WeakKeyDictionary

from sqlalchemy.orm import Session

MOST = 4000  # values of one database
Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")

_lock = Lock()
_of_database: WeakKeyDictionary[Any, OrderedDict[Any, Any]] = WeakKeyDictionary()


def kept(
    db: Session, keys: Collection[Key], make: Callable[[list[Key]], Mapping[Key, tuple[Value, bool]]]
) -> dict[Key, Value]:
    """Return the value of each key. Those that are not kept are made together, each with whether it may be kept."""
    with _lock:
        values = _of_database.setdefault(db.get_bind(), OrderedDict())
        found = {key: values[key] for key in keys if key in values}
        for key in found:
            values.move_to_end(key)
    lacking = [key for key in keys if key not in found]
    if lacking:
        made = make(lacking)
        with _lock:
            values.update({key: value for key, (value, lasts) in made.items() if lasts})
            while len(values) > MOST:
                values.popitem(last=False)
        found |= {key: value for key, (value, _) in made.items()}
    return found
