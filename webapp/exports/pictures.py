"""Which pictures the photos of a file get. What is sent along is looked at; what is only named is taken from the shops
of whoever puts it in, and from no other: to know the hash of a picture does not show it.
"""

import hashlib
from collections.abc import Iterable, Mapping
from io import BytesIO

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.exports.archive import Parcel
from webapp.exports.reading import RefusedError
from webapp.exports.row import Row
from webapp.photos.intake import LARGE, shown
from webapp.photos.models import Photo, key, original
from webapp.shops.models import Maker
from webapp.web.files import Store
from webapp.web.images import SIZES, PictureError, small_of

SMALL = next(size for size in SIZES if size != LARGE)
TRIES = 3


def shown_or_none(sha256: str, store: Store) -> str | None:
    """Return the hash of a picture as it is served, or none where its file is gone."""
    try:
        return shown(sha256, store)
    except FileNotFoundError:
        return None


def own(db: Session, person_id: int, store: Store) -> dict[str, list[str]]:
    """Return the pictures in the shops of somebody: their names in the store by the hash of what they show."""
    wanted = (
        select(Photo.shown_sha256, Photo.sha256)
        .join(Maker, Maker.shop_id == Photo.shop_id)
        .where(Maker.person_id == person_id, Maker.left_on.is_(None))
        .distinct()
        .order_by(Photo.sha256)
    )
    found: dict[str, list[str]] = {}
    for noted, sha256 in db.execute(wanted):
        shows = noted or shown_or_none(sha256, store)
        if shows is not None:
            found.setdefault(shows, []).append(sha256)
    return found


class Album:
    """The pictures for the photos of one file; each is stored for good before any row names it."""

    def __init__(self, parcel: Parcel, mine: Mapping[str, list[str]], store: Store) -> None:
        self._parcel, self._store = parcel, store
        self._names = {shows: list(names) for shows, names in mine.items()}
        self._used: set[tuple[object, object, str]] = set()

    def fill(self, photos: Iterable[Row]) -> list[Row]:
        """Give each photo the name of its picture in the store; return those whose picture is nowhere to be found.

        Raises RefusedError for a picture that is not what it says, StoreError where it cannot be stored.
        """
        missing = []
        for photo in photos:
            name = self._name(photo)
            if name is None:
                photo.is_skipped = True
                missing.append(photo)
            else:
                photo.values["sha256"] = name
        return missing

    def _name(self, photo: Row) -> str | None:
        shows = photo.values["shown_sha256"]
        if shows is None:
            return None
        names = self._names.setdefault(shows, [])
        if not names and self._parcel.has(shows):
            names.append(self._stored(self._parcel.picture(shows), shows))
        names[:] = [name for name in names if self._store.exists(key(name, LARGE))]
        if not names:
            return None
        place = (photo.build, photo.names["operation_id"])
        free = next((name for name in names if (*place, name) not in self._used), None)
        if free is None:  # the same picture stands there twice, and a place has a name only once
            with self._store.open(key(names[0], LARGE)) as file:
                free = self._stored(file.read(), shows, len(names))
            names.append(free)
        self._used.add((*place, free))
        return free

    def _stored(self, large: bytes, shows: str, marks: int = 0) -> str:
        """Store a picture and return its name. Bytes after its end make another name for what shows the same."""
        try:
            small = small_of(large)
        except PictureError as error:
            raise RefusedError(f"pictures/{shows}.webp: {error}") from None
        for count in range(marks, marks + TRIES):
            sent = large + bytes(count)
            name = hashlib.sha256(sent).hexdigest()
            self._store.put(original(name), BytesIO(sent))
            self._store.put(key(name, LARGE), BytesIO(large))
            self._store.put(key(name, SMALL), BytesIO(small))
            if shown(name, self._store) == shows:  # not another picture that was there under this name before
                return name
        raise RefusedError(f"pictures/{shows}.webp: this picture could not be stored under a name of its own.")
