"""What can be done with photos. Each stands in the journal by a line of its own, corrected when it is put elsewhere."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.journal.actions import record
from webapp.photos import moments
from webapp.photos.intake import Received
from webapp.photos.models import Photo
from webapp.shops.models import Shop
from webapp.web.files import Store

KIND = "photographed"
KEPT_AT_LEAST = timedelta(days=1)


class PlaceError(ValueError):
    """A place a photo cannot be put on; the text says why."""


def add(
    db: Session,
    received: Sequence[Received],
    *,
    now: datetime,
    shop_id: int,
    maker_id: int | None,
    build: Build | None = None,
    operation: Operation | None = None,
    caption: str = "",
    cover: bool = False,
) -> list[Photo]:
    """Put stored pictures on an operation, a build or the shop, and return their rows in the order they were sent.

    A picture that is there already is that row: sent twice is stored once. One that was taken out comes back.
    """
    if operation is not None:
        build = operation.build
    _lock(db, shop_id, build)
    there = _there(db, shop_id, build, operation)
    for one in received:
        if one.sha256 not in there:
            photo = _new(
                one, now, shop_id=shop_id, maker_id=maker_id, build=build, operation=operation, caption=caption
            )
            there[one.sha256] = photo
            db.add(photo)
            db.flush()
            _write(db, photo, now)
        there[one.sha256].removed_at = None
    photos = [there[sha256] for sha256 in dict.fromkeys(one.sha256 for one in received)]
    if cover and photos:
        make_cover(db, photos[0])
    return photos


def _new(one: Received, now: datetime, **place: Any) -> Photo:
    at, asks = moments.placed(one.taken_at, now)
    return Photo(
        sha256=one.sha256,
        shown_sha256=one.shown_sha256,
        sent_name=one.sent_name,
        width=one.width,
        height=one.height,
        taken_at=one.taken_at,
        at=at,
        asks_time=asks,
        **place,
    )


def _lock(db: Session, shop_id: int, build: Build | None) -> None:
    """Let two sendings to one place wait for each other. SQLite writes one at a time anyway."""
    place = select(Build.id).where(Build.id == build.id) if build else select(Shop.id).where(Shop.id == shop_id)
    db.execute(place.with_for_update())


def _there(db: Session, shop_id: int, build: Build | None, operation: Operation | None) -> dict[str, Photo]:
    """Return the photos of exactly this place, by their hash. The database holds places without operation apart."""
    rows = db.scalars(
        select(Photo).where(
            Photo.shop_id == shop_id,
            Photo.build_id == (build.id if build else None),
            Photo.operation_id == (operation.id if operation else None),
        )
    )
    return {photo.sha256: photo for photo in rows}


def _write(db: Session, photo: Photo, now: datetime, *, again: bool = False) -> None:
    """Write the line of a photo, or the one that corrects it."""
    record(
        db,
        KIND,
        id=f"{photo.entry_id}-{photo.version:05}" if again else photo.entry_id,
        at=photo.at,
        now=now,
        shop_id=photo.shop_id,
        maker_id=photo.maker_id,
        operation=photo.operation,
        build=photo.build,
        data={"photo": photo.id} | ({"note": photo.caption} if photo.caption else {}),
        corrects=photo.entry_id if again else None,
    )


def change(db: Session, photo: Photo, caption: str, operation: Operation | None, now: datetime) -> None:
    """Give a photo another caption or another place in its build; raise PlaceError when it is there already."""
    if (photo.caption, photo.operation) == (caption, operation):
        return
    _lock(db, photo.shop_id, photo.build)
    other = _there(db, photo.shop_id, photo.build, operation).get(photo.sha256)
    if other not in (None, photo):
        raise PlaceError("The same photo is there already.")
    photo.caption, photo.operation = caption, operation
    db.flush()
    _write(db, photo, now, again=True)


def make_cover(db: Session, photo: Photo) -> None:
    """Make a photo the picture of its build, in place of another."""
    for other in db.scalars(select(Photo).where(Photo.build_id == photo.build_id, Photo.is_cover)):
        other.is_cover = False
    photo.is_cover = photo.build_id is not None


def take_out(photo: Photo, now: datetime) -> None:
    """Take a photo out of all lists. Its line in the journal stays, and it can be put back."""
    photo.removed_at = photo.removed_at or now
    photo.is_cover = False


def put_back(photo: Photo) -> None:
    photo.removed_at = None


def leave(photos: Sequence[Photo]) -> None:
    """Settle that photos happened when they were sent, whatever the camera says."""
    for photo in photos:
        photo.asks_time = False


def shift(db: Session, photos: Sequence[Photo], span: timedelta, now: datetime) -> None:
    """Put photos at the camera's time moved by a span. Raises MomentError, and then moves none."""
    for photo, at in zip(photos, moments.shifted(photos, span, now), strict=True):
        photo.asks_time = False
        if photo.at != at:
            photo.at = at
            db.flush()
            _write(db, photo, now, again=True)


def sweep(
    store: Store, db: Session, now: datetime, *, age: timedelta = KEPT_AT_LEAST, delete: bool = True
) -> list[str]:
    """Return the names of files that no row of any shop names and that are older than `age`; delete them as well.

    A day is long enough for any upload: its files are there before its row is.
    """
    old = [name for name, put in store.kept() if put < now - age]
    named = set(db.scalars(select(Photo.sha256)))
    found = [name for name in old if name.split(".")[0] not in named or name.endswith(".part")]
    if delete:
        for name in found:
            store.delete(name)
    return found
