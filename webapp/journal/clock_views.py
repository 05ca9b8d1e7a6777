"""The labour clock: start, pause, done, abandon, tight clamps, how many of a batch."""

from collections.abc import Sequence

from flask import Blueprint, redirect, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.beforehand import Beforehand
from webapp.builds.models import Operation
from webapp.builds.steps import Step
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.actions import states
from webapp.journal.air import slow
from webapp.journal.before import before_of, is_untold, minded
from webapp.journal.cautions import after_done
from webapp.journal.forms import AbandonForm, CountForm, EntryForm, StartForm
from webapp.journal.gluing import GLUED, is_glued
from webapp.journal.holds import TOO_EARLY, Held, holds
from webapp.journal.names import names_of
from webapp.journal.scene import Scene
from webapp.journal.waits import has_wait
from webapp.planning.record import OperationState
from webapp.shops.actions import this_shop
from webapp.web.clock import now
from webapp.web.filters import when
from webapp.web.guard import visitor

part = Blueprint("clock", __name__, url_prefix="/operations/<int:operation_id>")
PAUSE, BESIDE = "pause", "beside"


@part.get("/start")
def start(operation_id: int) -> str:
    """Ask what is to be known before an operation is started: why so early, and what becomes of the other clock."""
    operation = acts.the_operation(operation_id)
    return _ask_to_start(StartForm(next=acts.way_back()), operation, acts.scene_of(operation))


@part.post("/start")
def create_start(operation_id: int) -> ResponseReturnValue:
    """Start an operation, or go on with it."""
    operation, form = acts.the_operation(operation_id), StartForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    scene = acts.scene_of(operation)
    if not form.validate():
        return _ask_to_start(form, operation, scene), 422
    held, clocks = _hard(holds(scene, scene.step(operation))), verbs.clocks_of(session(), this_shop(), now())
    mine = clocks.of(visitor().maker_id)
    if any(span.operation == operation.id for span in mine):
        acts.say(f"{operation.name} is in hand already.")
        return acts.back()
    others, choice = mine, request.form.get("others")
    is_told, before = "told" in request.form, before_of(scene, operation)
    is_asked = (held and "reason" not in request.form) or (others and choice not in (PAUSE, BESIDE))
    if is_asked or (not is_told and _is_to_tell(scene, operation, before, held)):
        return redirect(url_for(".start", operation_id=operation.id, next=acts.way_back()), 303)
    if held and not form.reason.data:
        form.reason.errors = ["Say in a word or two why it cannot wait."]
        return _ask_to_start(form, operation, scene), 422
    paused = clocks if choice == PAUSE else verbs.Clocks((), ())
    begun = verbs.start(
        session(), acts.act_of(form), operation, scene, paused, form.reason.data or "", {one.flag for one in held}
    )
    more = (url_for("journal.glue.open_time", operation_id=operation.id), "Open time") if is_glued(operation) else None
    text, mind = f"{operation.name}: in hand since {when(begun.at)}.", minded(before, is_told=is_told)
    acts.say(text, begun, more=more, mind=mind)
    session().commit()
    return acts.back()


def _is_barred(held: Sequence[Held]) -> bool:
    """Whether the air speaks against the work altogether."""
    return any(one.flag != TOO_EARLY for one in held)


def _cold(scene: Scene, step: Step, held: Sequence[Held]) -> str:
    """What is said of air that is cold for the product, where nothing graver is."""
    return "" if _is_barred(held) else slow(scene, step)


def _hard(held: Sequence[Held]) -> list[Held]:
    return [one for one in held if not one.soft]


def _is_to_tell(scene: Scene, operation: Operation, before: Beforehand | None, held: Sequence[Held]) -> bool:
    """Whether something is worth a look before the tin is opened."""
    is_cold = bool(_cold(scene, scene.step(operation), held))
    return is_cold or is_untold(scene, operation, before) or _is_too_short(scene, operation)


def _is_too_short(scene: Scene, operation: Operation) -> bool:
    """Whether the glue of an operation that was not begun stays open for less than its dry run took."""
    glue = acts.gluing_of(scene, operation) if scene.state(operation).started is None else None
    return glue is not None and glue.parts > 1


def _ask_to_start(form: StartForm, operation: Operation, scene: Scene) -> str:
    step = scene.step(operation)
    held = _hard(holds(scene, step))
    cold = _cold(scene, step, held)
    clocks = verbs.clocks_of(session(), this_shop(), now())
    others = [span for span in clocks.of(visitor().maker_id) if span.operation != operation.id]
    label = "Start all the same" if held else "Start"
    listed = " and ".join(names_of(session(), others))
    buttons = [(f"Pause {listed} and start", "others", PAUSE), ("Start beside it", "others", BESIDE)]
    return acts.ask(
        form,
        f"Start: {operation.name}" if held or not others else f"{operation.name}, and what of {listed}?",
        label,
        operation=operation,
        held=held,
        before=before_of(scene, operation),
        cold=cold,
        heating=acts.heating(scene.room(step)) if cold or _is_barred(held) else (),
        glue=acts.gluing_of(scene, operation),
        buttons=buttons if others else (),
        fields=("reason", "at") if held else ("at",),
    )


@part.get("/pause")
def pause(operation_id: int) -> str:
    """Ask when an operation was paused, where that was earlier."""
    operation = acts.the_operation(operation_id)
    return acts.ask(EntryForm(next=acts.way_back()), f"Pause {operation.name}", "Pause", operation=operation)


@part.post("/pause")
def create_pause(operation_id: int) -> ResponseReturnValue:
    """Stop the maker's clock on an operation."""
    operation, form = acts.the_operation(operation_id), EntryForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return acts.ask(form, f"Pause {operation.name}", "Pause", operation=operation), 422
    act, state = acts.act_of(form), _state_of(operation)
    if act.maker_id not in state.at_it:
        acts.say(f"{operation.name} is not in hand.")
        return acts.back()
    verbs.check_not_before([span for span in state.spans if span.maker == act.maker_id], act.at)
    line = verbs.write(session(), act, "paused", operation)
    acts.say(f"{operation.name}: paused {when(line.at)}.", line)
    session().commit()
    return acts.back()


@part.get("/done")
def done(operation_id: int) -> str:
    """Ask when an operation was done, where that was earlier."""
    operation = acts.the_operation(operation_id)
    return acts.ask(EntryForm(next=acts.way_back()), f"Done: {operation.name}", "Done", operation=operation)


@part.post("/done")
def create_done(operation_id: int) -> ResponseReturnValue:
    """End the hands-on work; a wait, if there is one, begins."""
    operation, form = acts.the_operation(operation_id), EntryForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return acts.ask(form, f"Done: {operation.name}", "Done", operation=operation), 422
    act, scene = acts.act_of(form), acts.scene_of(operation)
    state = scene.state(operation)
    if state.finished is not None:
        acts.say(f"{operation.name} was done {when(state.finished)}.")
        return acts.back()
    verbs.check_not_before(state.spans, act.at)
    line = verbs.done(session(), act, operation, scene)
    text, more = f"{operation.name}: done {when(line.at)}.", None
    if has_wait(scene, scene.step(operation)) and state.wait_began is None:
        text += " The wait counts from now." if not act.remembered else " The wait counts from then."
        if operation.kind in GLUED:
            more = url_for(".clamps", operation_id=operation.id, next=acts.way_back()), "Clamps tight earlier?"
    acts.say(text, line, after_done(scene.label(operation)), more)
    session().commit()
    return acts.back()


@part.get("/clamps")
def clamps(operation_id: int) -> str:
    """Ask when the clamps were tight."""
    operation = acts.the_operation(operation_id)
    says = ("The wait counts from the moment the clamps are tight, whether the clean-up is done or not.",)
    form = EntryForm(next=acts.way_back())
    return acts.ask(form, "Clamps tight", "Clamps tight", operation=operation, says=says)


@part.post("/clamps")
def create_clamps(operation_id: int) -> ResponseReturnValue:
    """Begin the wait: the clamps are tight."""
    operation, form = acts.the_operation(operation_id), EntryForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return acts.ask(form, "Clamps tight", "Clamps tight", operation=operation), 422
    line = verbs.clamps(session(), acts.act_of(form), operation, acts.scene_of(operation))
    acts.say(f"{operation.name}: clamps tight {when(line.at)}. The wait counts from then.", line)
    session().commit()
    return acts.back()


@part.get("/abandon")
def abandon(operation_id: int) -> str:
    """Ask what went wrong."""
    return _ask_to_abandon(AbandonForm(next=acts.way_back()), acts.the_operation(operation_id))


@part.post("/abandon")
def create_abandon(operation_id: int) -> ResponseReturnValue:
    """Give an operation up: clamps are free, nothing cures, the hours stay as a mistake."""
    operation, form = acts.the_operation(operation_id), AbandonForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_to_abandon(form, operation), 422
    line = verbs.write(session(), acts.act_of(form), "abandoned", operation, reason=form.reason.data)
    acts.say(f"{operation.name}: abandoned {when(line.at)}. Its hours are kept.", line)
    session().commit()
    return acts.back()


def _ask_to_abandon(form: AbandonForm, operation: Operation) -> str:
    says = (
        "Clamps and places are free at once and nothing cures. The hours stay, as a mistake one learns from.",
        "What follows waits until another operation does this one again.",
    )
    fields = ("reason", "at")
    return acts.ask(form, f"Abandon {operation.name}", "Abandon", operation=operation, says=says, fields=fields)


@part.get("/count")
def count(operation_id: int) -> str:
    """Ask how many of a batch are done."""
    operation = acts.the_operation(operation_id)
    so_far = _state_of(operation).done_count
    return _ask_for_count(CountForm(done=so_far, next=acts.way_back()), operation)


@part.post("/count")
def create_count(operation_id: int) -> ResponseReturnValue:
    """Note how many of a batch are done."""
    operation, form = acts.the_operation(operation_id), CountForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_for_count(form, operation), 422
    if (form.done.data or 0) > operation.count:
        form.done.errors = [f"There are {operation.count} of them."]
        return _ask_for_count(form, operation), 422
    line = verbs.write(session(), acts.act_of(form), "counted", operation, done=form.done.data)
    acts.say(f"{operation.name}: {form.done.data} of {operation.count} done.", line)
    session().commit()
    return acts.back()


def _ask_for_count(form: CountForm, operation: Operation) -> str:
    title = f"How many of {operation.count} are done?"
    return acts.ask(form, title, "Note it", operation=operation, fields=("done", "at"))


def _state_of(operation: Operation) -> OperationState:
    return states(session(), [operation], now())[operation.id]
