"""A glue-up against the clock: its dry run, the open time counted down, and the way out where that is too short."""

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.actions import lock
from webapp.builds.models import Operation
from webapp.builds.splitting import split
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.forms import EntryForm
from webapp.journal.glue_forms import DryRunForm, SplitForm, began_at
from webapp.journal.gluing import SPREAD, last_spread
from webapp.journal.scene import Scene
from webapp.planning.record import State
from webapp.trade.products.figures import OUT_OF_CLAMPS
from webapp.web import once
from webapp.web.clock import now
from webapp.web.filters import when
from webapp.web.guard import mine, visitor

part = Blueprint("glue", __name__, url_prefix="/operations/<int:operation_id>")


@part.get("/dry-run")
def dry_run(operation_id: int) -> ResponseReturnValue:
    """Ask how long the dry run took, or count while it runs."""
    operation = acts.the_operation(operation_id)
    if "start" in request.args:
        began = now().isoformat(timespec="seconds")
        return redirect(url_for(".dry_run", operation_id=operation.id, since=began, next=acts.way_back()), 303)
    return _dry_run(operation, DryRunForm(since=request.args.get("since", ""), minutes=operation.assembly_minutes))


@part.post("/dry-run")
def create_dry_run(operation_id: int) -> ResponseReturnValue:
    """Keep how long the dry run took."""
    operation, form = acts.the_operation(operation_id), DryRunForm(request.form)
    minutes = form.took()
    if minutes is None:
        return _dry_run(operation, form), 422
    operation.assembly_minutes = minutes
    acts.say(f"{operation.name}: the dry run took {minutes} min.")
    session().commit()
    return acts.back()


def _dry_run(operation: Operation, form: DryRunForm) -> str:
    began = began_at(form.since.data)
    it = acts.gluing_of(acts.scene_of(operation), operation)
    told = {"operation": operation, "form": form, "began": began, "it": it, "way_back": acts.way_back()}
    return render_template("journal/dry_run.html", **told)


@part.get("/open-time")
def open_time(operation_id: int) -> str:
    """Show how long the glue stays open, in figures to be read from afar."""
    operation = acts.the_operation(operation_id)
    return _open_time(acts.scene_of(operation), operation)


@part.post("/open-time")
def create_open_time(operation_id: int) -> ResponseReturnValue:
    """The glue goes on: its open time runs from now."""
    operation, form = acts.the_operation(operation_id), EntryForm(request.form)
    here = redirect(url_for(".open_time", operation_id=operation_id, next=acts.way_back()), 303)
    if acts.was_sent(form):
        return here
    scene = acts.scene_of(operation)
    it = acts.gluing_of(scene, operation)
    if not form.validate() or it is None or it.given is None:
        return _open_time(scene, operation), 422
    closed = None if it.given.closed is None else round(60 * it.given.closed)
    opens, act = round(60 * it.given.open), acts.act_of(form)
    line = verbs.write(session(), act, SPREAD, operation, open_seconds=opens, closed_seconds=closed)
    acts.say(f"{operation.name}: glue on {when(line.at)}.", line)
    session().commit()
    return here


def _open_time(scene: Scene, operation: Operation) -> str:
    found = last_spread(session(), visitor().shop.id, operation.id, now())
    state = scene.state(operation)
    if found is not None and state.wait_began is not None and state.wait_began >= found.at:
        found = None  # the clamps are tight: nothing is open any more
    it = acts.gluing_of(scene, operation)
    told = {"operation": operation, "spread": found, "it": it, "way_back": acts.way_back()}
    return render_template("journal/open_time.html", state=state, **told)


@part.get("/split")
def confirm_split(operation_id: int) -> str:
    """Say what splitting a glue-up does, and ask into how many goes."""
    operation = acts.the_operation(operation_id)
    scene = acts.scene_of(operation)
    it = acts.gluing_of(scene, operation)
    return _split(scene, operation, SplitForm(parts=max(2, it.parts if it else 2)))


@part.post("/split")
@once.once
def create_split(operation_id: int) -> ResponseReturnValue:
    """Split a glue-up: each go waits until the clamps of the one before may come off."""
    lock(session(), mine(Operation, operation_id).build_id)
    session().expire_all()
    operation, form = acts.the_operation(operation_id), SplitForm(request.form)
    scene = acts.scene_of(operation)
    if not form.validate() or scene.state(operation).state is not State.NOT_STARTED:
        return _split(scene, operation, form), 422
    split(session(), operation, form.parts.data, _stage(scene, operation))
    acts.say(f"Split into {form.parts.data} goes. Say what goes together in which, and dry-run each.")
    anchor = f"operation-{operation.id}"
    location = once.keep(url_for("builds.show", build_id=operation.build_id, _anchor=anchor))
    session().commit()
    return redirect(location, 303)


def _split(scene: Scene, operation: Operation, form: SplitForm) -> str:
    told = {
        "operation": operation,
        "form": form,
        "it": acts.gluing_of(scene, operation),
        "stage": _stage(scene, operation),
    }
    begun = scene.state(operation).state is not State.NOT_STARTED
    return render_template("journal/split.html", begun=begun, way_back=acts.way_back(), **told)


def _stage(scene: Scene, operation: Operation) -> str | None:
    """The stage at which clamps may come off: by its name, else the first there is, None where nothing waits."""
    stages = [one.name for one in scene.product(operation).stages] + [one["name"] for one in operation.stages or ()]
    return OUT_OF_CLAMPS if OUT_OF_CLAMPS in stages else next(iter(stages), None)
