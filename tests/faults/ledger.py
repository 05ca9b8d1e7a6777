"""What the server has acknowledged: an entry or a photo is in here from the moment its answer was read."""

import threading
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Acknowledged:
    """What was acknowledged up to a moment."""

    notes: dict[str, str] = field(default_factory=dict)  # id of the line: what it says
    photos: frozenset[str] = frozenset()  # SHA-256 of what was sent

    def __len__(self) -> int:
        return len(self.notes) + len(self.photos)


class Ledger:
    """Written by all who send, read by who checks."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._notes: dict[str, str] = {}
        self._photos: set[str] = set()
        self.refused = 0  # answers that said why not yet: busy, no database
        self.strange: list[str] = []  # answers that should not have been

    def note(self, key: str, words: str) -> None:
        with self._lock:
            self._notes[key] = words

    def photo(self, sha256: str) -> None:
        with self._lock:
            self._photos.add(sha256)

    def refuse(self) -> None:
        with self._lock:
            self.refused += 1

    def wonder(self, words: str) -> None:
        with self._lock:
            self.strange.append(words)

    def so_far(self) -> Acknowledged:
        with self._lock:
            return Acknowledged(dict(self._notes), frozenset(self._photos))

    def __len__(self) -> int:
        with self._lock:
            return len(self._notes) + len(self._photos)
