"""All pieces, and one."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds import listing, words
from webapp.builds.actions import has_record
from webapp.builds.again import again as make_again
from webapp.builds.begin import begin
from webapp.builds.forms import DeleteForm, EditForm, NewForm, StatusForm
from webapp.builds.loading import load_operations
from webapp.builds.models import Build
from webapp.builds.operations_views import part as operations
from webapp.builds.order import grouped
from webapp.builds.order_doubts import doubts_of
from webapp.builds.parts_views import part as parts
from webapp.db.session import session
from webapp.web import guard, once, versions
from webapp.web.clock import now, today
from webapp.web.forms import searched
from webapp.web.paging import page_of

room = Blueprint("builds", __name__)
room.register_blueprint(operations)
room.register_blueprint(parts)


@room.get("/builds")
def index() -> str:
    """Show the open pieces by status, or those put away, or those in which some words occur."""
    shop = guard.visitor().shop
    typed, put_away = searched("q"), "put-away" in request.args
    page = page_of(listing.builds_of(shop.id, typed, put_away))
    left = session().scalar(listing.count_put_away(shop.id))
    return render_template("builds/index.html", page=page, words=typed, put_away=put_away, left=left)


@room.get("/builds/new")
@guard.owner
def new() -> str:
    """Ask what the new piece is and how it is made."""
    return _new(NewForm())


@room.post("/builds")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Begin a piece, blank or by methods."""
    form = NewForm(request.form)
    if not form.validate():
        return _new(form), 422
    build = Build(shop_id=guard.visitor().shop.id, status=form.status.data, created_at=now())
    form.fill(build)
    session().add(build)
    session().flush()
    begin(session(), build, form.chosen)
    location = once.keep(url_for("builds.show", build_id=build.id))
    session().commit()
    return redirect(location, 303)


def _new(form: NewForm) -> str:
    woods = session().scalars(listing.woods_of(guard.visitor().shop.id)).all()
    return render_template("builds/new.html", form=form, woods=woods)


@room.get("/builds/<int:build_id>")
def show(build_id: int) -> str:
    """Show one piece: its operations, its parts, and what later rooms know of it."""
    build = guard.mine(Build, build_id)
    return _show(build, StatusForm(obj=build))


@room.post("/builds/<int:build_id>/status")
@guard.owner
def status(build_id: int) -> ResponseReturnValue:
    """Say where the piece stands."""
    build = guard.mine(Build, build_id)
    form = StatusForm(request.form)
    if not form.check(today(guard.visitor().shop.zone.key)):
        return _show(build, form), 422
    form.fill(build)
    session().commit()
    return redirect(url_for("builds.show", build_id=build_id), 303)


def _show(build: Build, form: StatusForm) -> str:
    load_operations(session(), [build])
    return render_template(
        "builds/show.html",
        build=build,
        groups=grouped(build.operations),
        doubts=doubts_of(build),
        several_rooms=len({one.room_id for one in build.operations}) > 1,
        words=words,
        form=form,
        again_key=once.new_key(),
    )


@room.get("/builds/<int:build_id>/edit")
@guard.owner
def edit(build_id: int) -> str:
    """Ask what is to be changed about the piece."""
    build = guard.mine(Build, build_id)
    return _edit(build, _saved(build))


@room.post("/builds/<int:build_id>/edit")
@guard.owner
def update(build_id: int) -> ResponseReturnValue:
    """Keep what was changed, unless somebody changed the piece meanwhile."""
    build = guard.mine(Build, build_id)
    saved = _saved(build)
    form = EditForm(request.form)
    form.offer(build)
    if not form.validate():
        return _edit(build, form), 422
    if versions.is_stale(form, build):
        return _edit(build, form, versions.differences(form, saved)), 409
    form.fill(build)
    session().commit()
    return redirect(url_for("builds.show", build_id=build_id), 303)


def _saved(build: Build) -> EditForm:
    load_operations(session(), [build])
    form = EditForm(obj=build, data=EditForm.data_of(build))
    form.offer(build)
    return form


def _edit(build: Build, form: EditForm, differences: list[tuple[str, str, str]] | None = None) -> str:
    woods = session().scalars(listing.woods_of(build.shop_id)).all()
    return render_template("builds/edit.html", build=build, form=form, differences=differences, woods=woods)


@room.post("/builds/<int:build_id>/again")
@guard.owner
@once.once
def again(build_id: int) -> ResponseReturnValue:
    """Make the piece again: a new build with its operations and parts."""
    build = make_again(session(), guard.mine(Build, build_id), now())
    flash("Operations and parts are copied. Say for whom and by when it is this time.")
    location = once.keep(url_for("builds.edit", build_id=build.id))
    session().commit()
    return redirect(location, 303)


@room.get("/builds/<int:build_id>/delete")
@guard.owner
def confirm_delete(build_id: int) -> str:
    """Ask for the name of the piece before it is deleted, or say why it stays."""
    build = guard.mine(Build, build_id)
    return _delete(build, DeleteForm())


@room.post("/builds/<int:build_id>/delete")
@guard.owner
def delete(build_id: int) -> ResponseReturnValue:
    """Delete a piece on which no record hangs."""
    build = guard.mine(Build, build_id)
    form = DeleteForm(request.form)
    if has_record(session(), build):
        return _delete(build, form), 409
    if not form.check(build):
        return _delete(build, form), 422
    session().delete(build)
    flash(f"{build.name} is deleted.")
    session().commit()
    return redirect(url_for("builds.index"), 303)


def _delete(build: Build, form: DeleteForm) -> str:
    return render_template("builds/delete.html", build=build, form=form, kept=has_record(session(), build))
