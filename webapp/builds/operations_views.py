"""One operation of a piece, and the order in which they are shown."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.actions import has_record, lock, set_order
from webapp.builds.keys import key_for
from webapp.builds.loading import load_steps
from webapp.builds.models import Build, Operation
from webapp.builds.operations_before import Chosen, chosen
from webapp.builds.operations_check import check
from webapp.builds.operations_form import HOLDS, STAGES, TENDS, WAITS, OperationForm
from webapp.builds.operations_offers import Offers, offers, put_into
from webapp.builds.operations_rows import data_of, fill
from webapp.builds.order import DIRECTIONS, grouped, moved, placed
from webapp.builds.order_doubts import doubts_of
from webapp.builds.waiting import waiting_for
from webapp.db.session import session
from webapp.web import guard, once, versions
from webapp.web.clock import now
from webapp.web.filters import local

part = Blueprint("operations", __name__)
ROWS = {"waits": ("wait", WAITS), "holds": ("hold", HOLDS), "stages": ("stage", STAGES), "tends": ("tend", TENDS)}


@part.get("/builds/<int:build_id>/operations/new")
def new(build_id: int) -> str:
    """Ask for a new operation; it waits for the one before unless that is changed."""
    offered = _offers(guard.mine(Build, build_id))
    form = OperationForm(data=_first_guess(offered))
    put_into(form, offered)
    return _new(offered, form)


@part.post("/builds/<int:build_id>/operations")
@once.once
def create(build_id: int) -> ResponseReturnValue:
    """Add an operation at the end of its group."""
    build = guard.mine(Build, build_id)
    lock(session(), build.id)
    offered = _offers(build)
    form = OperationForm(request.form)
    put_into(form, offered)
    if not check(form, offered):
        return _new(offered, form), 422
    key = key_for(form.name.data or "", {one.key for one in build.operations})
    operation = Operation(shop_id=build.shop_id, build_id=build.id, key=key, position=len(build.operations) + 1)
    fill(form, operation)
    session().add(operation)
    session().flush()
    set_order(session(), placed([*build.operations, operation], operation, None))
    location = once.keep(_after_create(build, operation))
    session().commit()
    return redirect(location, 303)


def _after_create(build: Build, operation: Operation) -> str:
    if "another" in request.form:
        return url_for("builds.operations.new", build_id=build.id, after=operation.id)
    return _place_on_page(operation)


def _place_on_page(operation: Operation) -> str:
    return url_for("builds.show", build_id=operation.build_id, _anchor=f"operation-{operation.id}")


def _first_guess(offered: Offers) -> dict[str, str]:
    """The new one waits for the first stage of the last one, or of the one the address names."""
    named = request.args.get("after", type=int)
    before = next((one for one in offered.others if one.id == named), None)
    before = before or (offered.others[-1] if offered.others else None)
    if before is None:
        return {}
    stages = offered.stages_of(before)
    return {"group": before.group, "wait_1": f"{before.id}:{stages[0]}" if stages else str(before.id)}


def _offers(build: Build, itself: Operation | None = None) -> Offers:
    load_steps(session(), [build])
    return offers(session(), build, itself)


def _new(offered: Offers, form: OperationForm) -> str:
    return render_template(
        "builds/operations/new.html",
        build=offered.build,
        form=form,
        offered=offered,
        rows=ROWS,
        chosen=_chosen(offered, form),
    )


def _chosen(offered: Offers, form: OperationForm) -> Chosen | None:
    return chosen(session(), offered, form, local(now()))


@part.get("/operations/<int:operation_id>/edit")
def edit(operation_id: int) -> str:
    """Ask what is to be changed about the operation."""
    operation = guard.mine(Operation, operation_id)
    offered = _offers(operation.build, operation)
    return _edit(offered, operation, _saved(offered, operation))


@part.post("/operations/<int:operation_id>/edit")
def update(operation_id: int) -> ResponseReturnValue:
    """Keep what was changed, unless somebody changed the operation meanwhile."""
    operation = _locked(operation_id)
    offered = _offers(operation.build, operation)
    saved = _saved(offered, operation)
    form = OperationForm(request.form)
    put_into(form, offered)
    if not check(form, offered):
        return _edit(offered, operation, form), 422
    if versions.is_stale(form, operation):
        return _edit(offered, operation, form, versions.differences(form, saved)), 409
    group = operation.group
    fill(form, operation)
    if operation.group != group:
        set_order(session(), placed(operation.build.operations, operation, None))
    session().commit()
    return redirect(_place_on_page(operation), 303)


def _locked(operation_id: int) -> Operation:
    """Return an operation as it stands once nobody else changes the operations of its build."""
    lock(session(), guard.mine(Operation, operation_id).build_id)
    session().expire_all()
    return guard.mine(Operation, operation_id)


def _saved(offered: Offers, operation: Operation) -> OperationForm:
    form = OperationForm(data=data_of(operation))
    put_into(form, offered)
    return form


def _edit(
    offered: Offers,
    operation: Operation,
    form: OperationForm,
    differences: list[tuple[str, str, str]] | None = None,
) -> str:
    return render_template(
        "builds/operations/edit.html",
        build=offered.build,
        operation=operation,
        form=form,
        offered=offered,
        rows=ROWS,
        differences=differences,
        chosen=_chosen(offered, form),
    )


@part.get("/operations/<int:operation_id>/delete")
def confirm_delete(operation_id: int) -> str:
    """Ask before an operation is deleted, or say why it stays."""
    return _delete(guard.mine(Operation, operation_id))


@part.post("/operations/<int:operation_id>/delete")
def delete(operation_id: int) -> ResponseReturnValue:
    """Delete an operation that nothing waits for and on which no record hangs."""
    operation = _locked(operation_id)
    load_steps(session(), [operation.build])
    if has_record(session(), operation) or waiting_for(operation, operation.build.operations):
        return _delete(operation), 409
    build = operation.build
    build.done_at = [row for row in build.done_at or () if row["operation"] != operation.key] or None
    session().delete(operation)
    flash(f"{operation.name} is deleted.")
    session().commit()
    return redirect(url_for("builds.show", build_id=operation.build_id), 303)


def _delete(operation: Operation) -> str:
    load_steps(session(), [operation.build])
    return render_template(
        "builds/operations/delete.html",
        operation=operation,
        kept=has_record(session(), operation),
        waiting=waiting_for(operation, operation.build.operations),
    )


@part.get("/builds/<int:build_id>/order")
def order(build_id: int) -> str:
    """Show the operations to be put in another order."""
    build = guard.mine(Build, build_id)
    load_steps(session(), [build])
    groups, doubts = grouped(build.operations), doubts_of(build)
    return render_template("builds/operations/order.html", build=build, groups=groups, doubts=doubts)


@part.post("/operations/<int:operation_id>/place")
def place(operation_id: int) -> ResponseReturnValue:
    """Show an operation before another of its group (or last), or it or its group one step up or down."""
    operation = guard.mine(Operation, operation_id)
    operations = operation.build.operations
    direction, before = request.form.get("direction"), request.form.get("before", type=int)
    if direction in DIRECTIONS:
        ordered = moved(operations, operation, direction)
    elif "before" in request.form:
        ordered = placed(operations, operation, next((one for one in operations if one.id == before), None))
    else:
        abort(400)
    set_order(session(), ordered)
    session().commit()
    anchor = f"operation-{operation_id}"
    return redirect(url_for("builds.operations.order", build_id=operation.build_id, _anchor=anchor), 303)
