"""The photos of the shop: sending many at once, looking at one, saying what it shows and when it was taken."""

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from flask import Blueprint, Response, abort, flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select
from sqlalchemy.orm import joinedload

from webapp.builds.models import Build, Operation
from webapp.db.session import session, sessions
from webapp.photos import actions
from webapp.photos.forms import PhotoForm, PhotosForm, ShiftForm
from webapp.photos.intake import Batch, receive_all
from webapp.photos.models import Photo, beside, key, newest
from webapp.photos.moments import MomentError
from webapp.web import images, versions
from webapp.web.clock import now
from webapp.web.files import store
from webapp.web.filters import plural
from webapp.web.guard import key_of, mine, visitor
from webapp.web.paging import page_of

room = Blueprint("photos", __name__)

AT_ONCE = 48
MOST_SHIFTED = 500
FOR_EVER = "private, max-age=31536000, immutable"


@room.get("/photos")
def index() -> str:
    """Show the newest photos: of the shop, of one build, or of one operation."""
    build = mine(Build, request.args["build"]) if request.args.get("build", "").isdecimal() else None
    operation = mine(Operation, request.args["operation"]) if request.args.get("operation", "").isdecimal() else None
    page = page_of(newest(visitor().shop.id, build, operation), AT_ONCE)
    build = operation.build if operation else build
    return render_template(
        "photos/index.html", photos=page.rows, page=page, build=build, operation=operation, pick="pick" in request.args
    )


@room.get("/builds/<int:build_id>/photos/new")
@room.get("/operations/<int:operation_id>/photos/new")
def new(build_id: int | None = None, operation_id: int | None = None) -> str:
    """Show the form that sends photos."""
    return _new_page(PhotosForm(), *_place(build_id, operation_id))


@room.post("/builds/<int:build_id>/photos/new")
@room.post("/operations/<int:operation_id>/photos/new")
def create(build_id: int | None = None, operation_id: int | None = None) -> ResponseReturnValue:
    """Store the photos that are photos. What was not taken is said one by one, with what was typed kept."""
    _refuse_strangers(build_id, operation_id)
    form = PhotosForm(request.form, request.files)
    batch = receive_all(form.chosen(), store(), visitor().shop.zone) if form.validate() else Batch()
    build, operation = _place(build_id, operation_id)  # the transaction begins here, after the slow part
    photos = actions.add(
        session(),
        batch.received,
        now=now(),
        shop_id=visitor().shop.id,
        maker_id=visitor().maker_id,
        build=build,
        operation=operation,
        caption=form.caption.data or "",
        cover=bool(form.cover.data),
    )
    answer = _answer(form, batch, photos, build, operation)
    session().commit()
    return answer


def _refuse_strangers(build_id: int | None, operation_id: int | None) -> None:
    """Answer 404 before the slow part, in a short transaction of its own."""
    table, wanted = (Operation, operation_id) if operation_id else (Build, build_id)
    with sessions().read() as db:
        if db.scalar(select(table.id).where(table.id == wanted, table.shop_id == visitor().shop.id)) is None:
            abort(404)


def _place(build_id: int | None, operation_id: int | None) -> tuple[Build, Operation | None]:
    if operation_id is None:
        return mine(Build, build_id), None
    operation = mine(Operation, operation_id)
    return operation.build, operation


def _answer(
    form: PhotosForm, batch: Batch, photos: Sequence[Photo], build: Build, operation: Operation | None
) -> ResponseReturnValue:
    asking = [photo.id for photo in photos if photo.asks_time]
    location = _shift_address(asking) if asking else _home(build)
    if request.accept_mimetypes.best == "application/json":
        refused = [{"name": one.name, "says": one.says} for one in batch.refused]
        problems = [message for _, _, message in form.problems()]
        return jsonify(stored=len(photos), refused=refused, asking=asking, location=location, problems=problems)
    if form.errors or batch.refused:
        return _new_page(form, build, operation, batch, photos), 422
    flash(f"{plural(len(photos), 'photo')} added.")
    return redirect(location, 303)


def _new_page(
    form: PhotosForm,
    build: Build,
    operation: Operation | None,
    batch: Batch | None = None,
    photos: Sequence[Photo] = (),
) -> str:
    refused = batch.refused if batch else []
    return render_template(
        "photos/new.html", form=form, build=build, operation=operation, refused=refused, photos=photos
    )


def _home(build: Build | None) -> str:
    return url_for("builds.show", build_id=build.id, _anchor="photos") if build else url_for("photos.index")


@room.get("/photos/<int:photo_id>")
def show(photo_id: int) -> str:
    """Show one photo, large, with what is said of it."""
    photo = mine(Photo, photo_id)
    return _show_page(photo, _photo_form(photo))


@room.post("/photos/<int:photo_id>")
def update(photo_id: int) -> ResponseReturnValue:
    """Change what is said of a photo, or put it on another operation of its build."""
    photo = mine(Photo, photo_id)
    form = _photo_form(photo, request.form)
    if not form.validate():
        return _show_page(photo, form), 422
    if versions.is_stale(form, photo):
        return _show_page(photo, form, versions.differences(form, _photo_form(photo))), 409
    operation = mine(Operation, form.operation.data) if form.operation.data else None
    try:
        actions.change(session(), photo, form.caption.data or "", operation, now())
    except actions.PlaceError as error:
        form.operation.errors = [str(error)]
        return _show_page(photo, form), 422
    session().commit()
    return redirect(url_for("photos.show", photo_id=photo_id), 303)


def _photo_form(photo: Photo, typed: Any = None) -> PhotoForm:
    operations = photo.build.operations if photo.build else []
    data = {"caption": photo.caption, "operation": str(photo.operation_id or ""), "version": str(photo.version)}
    return PhotoForm(typed, data=data, operations=operations)


def _show_page(photo: Photo, form: PhotoForm, differences: Any = None) -> str:
    earlier, later = (session().scalar(wanted) for wanted in beside(photo))
    return render_template(
        "photos/show.html", photo=photo, form=form, earlier=earlier, later=later, differences=differences
    )


@room.post("/photos/<int:photo_id>/cover")
def cover(photo_id: int) -> ResponseReturnValue:
    """Make it the picture of its build."""
    photo = mine(Photo, photo_id)
    actions.make_cover(session(), photo)
    session().commit()
    return redirect(url_for("photos.show", photo_id=photo_id), 303)


@room.post("/photos/<int:photo_id>/removal")
def remove(photo_id: int) -> ResponseReturnValue:
    """Take it out. It can be put back."""
    photo = mine(Photo, photo_id)
    actions.take_out(photo, now())
    session().commit()
    return redirect(url_for("photos.show", photo_id=photo_id), 303)


@room.post("/photos/<int:photo_id>/removal/delete")
def put_back(photo_id: int) -> ResponseReturnValue:
    """Put it back where it was."""
    photo = mine(Photo, photo_id)
    actions.put_back(photo)
    session().commit()
    return redirect(url_for("photos.show", photo_id=photo_id), 303)


@room.get("/photos/shift")
def shift() -> str:
    """Ask when photos were taken whose camera had a wrong clock."""
    return _shift_page(ShiftForm(), _batch())


@room.post("/photos/shift")
def update_times() -> ResponseReturnValue:
    """Put photos at the camera's time, leave them where they were sent, or move all of them by as much."""
    photos = _batch()
    form = ShiftForm(request.form)
    answer = request.form.get("answer")
    if answer == "sent":
        actions.leave(photos)
    else:
        span = timedelta() if answer == "camera" else form.span(photos) if form.validate() else None
        try:
            if span is None:
                return _shift_page(form, photos), 422
            actions.shift(session(), photos, span, now())
        except MomentError as error:
            form.hours.errors = [str(error)]
            return _shift_page(form, photos), 422
    location = url_for("photos.show", photo_id=photos[0].id) if len(photos) == 1 else _home(photos[0].build)
    session().commit()
    return redirect(location, 303)


def _batch() -> list[Photo]:
    """Return the photos that are named, by the camera's time; at least one, or 404."""
    named = ",".join(request.values.getlist("ids")).split(",")
    ids = {key for one in named if (key := key_of(one)) is not None}
    if not 0 < len(ids) <= MOST_SHIFTED:
        abort(404)
    wanted = select(Photo).where(Photo.id.in_(ids), Photo.shop_id == visitor().shop.id)
    photos = session().scalars(wanted.options(joinedload(Photo.operation), joinedload(Photo.build))).all()
    return sorted(photos, key=lambda photo: (photo.taken_at or photo.at, photo.id)) or abort(404)


def _shift_address(ids: Sequence[int]) -> str:
    return url_for("photos.shift", ids=",".join(map(str, ids)))


def _shift_page(form: ShiftForm, photos: list[Photo]) -> str:
    believable = all(photo.taken_at and photo.taken_at <= now() for photo in photos)
    return render_template("photos/shift.html", form=form, photos=photos, believable=believable)


@room.get("/photos/<int:photo_id>/<any(small, large):size>.webp")
def picture(photo_id: int, size: str) -> ResponseReturnValue:
    """Send the pixels of a photo. Its address names its content, so a browser may keep it for ever."""
    photo = mine(Photo, photo_id)
    mark = f"{photo.sha256[:32]}-{size}"
    answer = Response(mimetype=images.TYPE)
    if mark in request.if_none_match:  # the browser has it: no store need be asked
        answer.status_code = 304
    else:
        answer.data = _pixels(key(photo.sha256, size))
    answer.set_etag(mark)
    is_its_own = request.args.get("v") == photo.mark
    answer.headers["Cache-Control"] = FOR_EVER if is_its_own else "private, no-cache"
    return answer


def _pixels(name: str) -> bytes:
    try:
        with store().open(name) as file:
            return file.read()
    except FileNotFoundError:
        abort(404)
