"""What other pages show of the photos. Lists ask for one build, operation or line at a time; the database is asked once
for all that the page has loaded."""

from collections.abc import Callable, Iterable
from typing import Any

from flask import g, get_template_attribute, render_template
from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload

from webapp.builds.models import Build, Operation
from webapp.db.session import session
from webapp.journal.models import Entry
from webapp.photos.actions import KIND
from webapp.photos.covers import counts, covers
from webapp.photos.models import Photo, newest

SHOWN = 8
LookUp = Callable[[Session, list[Any]], dict[Any, Any]]


def build_panel(build: Build) -> str:
    """Return the newest photos of a build, and the way to all of them and to adding some."""
    photos = session().scalars(newest(build.shop_id, build).limit(SHOWN + 1)).all()
    return render_template("photos/_build.html", build=build, photos=photos[:SHOWN], more=len(photos) > SHOWN)


def cover_panel(build: Build) -> str:
    """Return the picture that stands for a build, or nothing."""
    photo = _looked_up(covers, build)
    return _drawn("components/photo.html", "picture", photo, alt="") if photo else ""


def line_panel(operation: Operation) -> str:
    """Return how many photos an operation has, or nothing."""
    count = _looked_up(counts, operation)
    return render_template("photos/_count.html", operation=operation, count=count) if count else ""


def entry_panel(entry: Entry) -> str:
    """Return the photo a line of the journal tells of, or that it was taken out; nothing for other lines."""
    photo = _looked_up(_of_entries, entry) if entry.kind == KIND else None
    return _drawn("photos/_entry.html", "told", photo) if photo else ""


def _of_entries(db: Session, entries: Iterable[Entry]) -> dict[str, Photo]:
    wanted = {entry.id: (entry.shop_id, entry.data.get("photo")) for entry in entries if entry.kind == KIND}
    ids = {photo_id for _, photo_id in wanted.values() if isinstance(photo_id, int)}
    rows = db.scalars(select(Photo).where(Photo.id.in_(ids)).options(joinedload(Photo.operation)))
    photos = {(photo.shop_id, photo.id): photo for photo in rows}
    return {entry_id: photos[place] for entry_id, place in wanted.items() if place in photos}


def _drawn(template: str, macro: str, photo: Photo, **more: str) -> str:
    """Return what a macro draws: a template of its own for each line of a list takes several times as long."""
    return str(get_template_attribute(template, macro)(photo, **more))


def _looked_up(look_up: LookUp, row: Any) -> Any:
    """Return what belongs to a row. What belongs to the other rows of its kind on this page is looked up with it."""
    known: dict[Any, Any] = g.setdefault(f"photos_{look_up.__name__}", {})
    if row.id not in known:
        loaded = [other for other in session().identity_map.values() if isinstance(other, type(row))]
        wanted = [other for other in (row, *loaded) if other.id not in known]
        found = look_up(session(), wanted)
        known.update({other.id: found.get(other.id) for other in wanted})
    return known[row.id]
