"""What other pages show of the photos. Lists ask for one build, operation or line at a time; the database is asked once
for all that the page has loaded."""

from collections.abc import Iterable

from flask import render_template
from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from webapp.builds.models import Build, Operation
from webapp.db.session import session
from webapp.journal.models import Entry
from webapp.photos.actions import KIND
from webapp.photos.covers import counts, covers
from webapp.photos.models import Photo, newest
from webapp.web.panels import drawn, looked_up

SHOWN = 8


def build_panel(build: Build) -> str:
    """Return the newest photos of a build, and the way to all of them and to adding some."""
    photos = session().scalars(newest(build.shop_id, build).limit(SHOWN + 1)).all()
    return render_template("photos/_build.html", build=build, photos=photos[:SHOWN], more=len(photos) > SHOWN)


def cover_panel(build: Build) -> str:
    """Return the picture that stands for a build, or nothing."""
    photo = looked_up(covers, build)
    return drawn("components/photo.html", "picture", photo, alt="") if photo else ""


def line_panel(operation: Operation) -> str:
    """Return how many photos an operation has, or nothing."""
    count = looked_up(counts, operation)
    return render_template("photos/_count.html", operation=operation, count=count) if count else ""


def entry_panel(entry: Entry) -> str:
    """Return the photo a line of the journal tells of, or that it was taken out; nothing for other lines."""
    photo = looked_up(_of_entries, entry) if entry.kind == KIND else None
    return drawn("photos/_entry.html", "told", photo) if photo else ""


def _of_entries(db: Session, entries: Iterable[Entry]) -> dict[str, Photo]:
    wanted = {entry.id: (entry.shop_id, entry.data.get("photo")) for entry in entries if entry.kind == KIND}
    ids = {photo_id for _, photo_id in wanted.values() if isinstance(photo_id, int)}
    rows = db.scalars(select(Photo).where(Photo.id.in_(ids)).options(joinedload(Photo.operation)))
    photos = {(photo.shop_id, photo.id): photo for photo in rows}
    return {entry_id: photos[place] for entry_id, place in wanted.items() if place in photos}
