"""A wait's end asks, and somebody answers: dry, tacky, wet, out of clamps; and the tending inside it."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Operation
from webapp.builds.steps import Step
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.forms import AgainForm, EntryForm
from webapp.journal.layers import DRY, TACKY
from webapp.journal.models import Entry
from webapp.journal.scene import Scene
from webapp.journal.waits import ends, tendings_of, waits_of
from webapp.journal.words import tending_words
from webapp.planning.entry import ANSWERS
from webapp.web.filters import when

part = Blueprint("wait", __name__, url_prefix="/operations/<int:operation_id>")

REACHED, NOT_YET = "reached", "not yet"  # the answers about clamps
SOONER = ((15, "in 15 min"), (30, "in 30 min"))  # where the next layer goes on while it is tacky
LATER = ((60, "in 1 h"), (120, "in 2 h"), (240, "in 4 h"), (720, "in 12 h"), (1440, "in 24 h"))


@part.get("/stage")
def stage(operation_id: int) -> str:
    """Ask when to look again at what was tacky or wet."""
    form = AgainForm(next=acts.way_back(), stage=request.args.get("stage"), answer=request.args.get("answer"))
    return _ask_again(form, acts.the_operation(operation_id))


@part.post("/stage")
def create_stage(operation_id: int) -> ResponseReturnValue:
    """Note how it was at the end of a wait; only dry, or out of clamps, ends it."""
    operation, form = acts.the_operation(operation_id), AgainForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_again(form, operation), 422
    name, answer = str(form.stage.data), str(form.answer.data)
    scene = acts.scene_of(operation)
    step = scene.step(operation)
    if name not in {*ends(scene, step), DRY, TACKY} or answer not in (*ANSWERS, REACHED, NOT_YET):
        abort(400)
    if answer in (REACHED, "dry") or answer == name == TACKY:
        line = _ended(form, operation, name, answer)
        acts.say(_found(operation, name, answer, when(line.at)), line)
        session().commit()
        return acts.back()
    return _create_later(form, operation, _shuts(scene, step, name))


def _create_later(form: AgainForm, operation: Operation, shuts: datetime | None) -> ResponseReturnValue:
    """Note that it was tacky or wet, and when to look again."""
    name, answer = str(form.stage.data), str(form.answer.data)
    act, minutes = acts.act_of(form), next((one for one, _ in (*SOONER, *LATER) if _is_chosen(one)), 0)
    again = act.at + timedelta(minutes=minutes) if minutes else form.again_at.data
    if again is None and "again_at" not in request.form:
        way = acts.way_back()
        return redirect(url_for(".stage", operation_id=operation.id, stage=name, answer=answer, next=way), 303)
    wrong = _wrong(again, act.now, shuts)
    if again is None or wrong:
        form.again_at.errors = [wrong]
        return _ask_again(form, operation), 422
    line = _not_yet(act, operation, name, answer, again.isoformat())
    acts.say(f"{operation.name}: {answer}. Look again {when(again)}.", line)
    session().commit()
    return acts.back()


def _wrong(again: datetime | None, now: datetime, shuts: datetime | None) -> str:
    """What is wrong with a time to look again, if anything."""
    if again is None or again <= now:
        return "Say when to look again: a time to come."
    if shuts is not None and again >= shuts:
        return f"Before {when(shuts)}, please: after that the next layer may not go on as it is."
    return ""


def _is_chosen(minutes: int) -> bool:
    return request.form.get("in") == str(minutes)


def _found(operation: Operation, name: str, answer: str, at: str) -> str:
    if name != TACKY:
        return f"{operation.name}: {name} {at}."
    return f"{operation.name}: {'tacky as it should be' if answer == TACKY else 'hard'} {at}."


def _shuts(scene: Scene, step: Step, name: str) -> datetime | None:
    """When the window shuts in which the next layer goes on while this one is tacky."""
    return next((one.until for one in waits_of(scene, step) if one.stage == name == TACKY), None)


def _ended(form: AgainForm, operation: Operation, name: str, answer: str) -> Entry:
    act = acts.act_of(form)
    if answer == REACHED or answer == name == TACKY:
        return verbs.write(session(), act, "reached", operation, stage=name)
    return verbs.write(session(), act, "dry-tested", operation, stage=name, answer=answer)


def _not_yet(act: verbs.Act, operation: Operation, name: str, answer: str, again: str) -> Entry:
    found = "wet" if answer == NOT_YET else answer
    return verbs.write(session(), act, "dry-tested", operation, stage=name, answer=found, again_at=again)


def _ask_again(form: AgainForm, operation: Operation) -> str:
    if form.answer.data == NOT_YET:
        title = f"{operation.name}: leave it longer. Look again when?"
    else:
        title = f"{operation.name}: {form.answer.data}. Look again when?"
    scene = acts.scene_of(operation)
    shuts = _shuts(scene, scene.step(operation), str(form.stage.data))
    return acts.ask(
        form,
        title,
        "Look again then",
        operation=operation,
        says=(_what_follows(shuts),),
        buttons=[(label, "in", str(minutes)) for minutes, label in _offered(scene.now, shuts)],
        fields=("again_at",),
    )


def _what_follows(shuts: datetime | None) -> str:
    if shuts is None:
        return "The wait goes on until then, and what follows moves with it. The test is kept."
    return f"The next layer may go on until {when(shuts)}: look again before then. The test is kept."


def _offered(now: datetime, shuts: datetime | None) -> Sequence[tuple[int, str]]:
    if shuts is None:
        return LATER
    return [one for one in (*SOONER, *LATER) if now + timedelta(minutes=one[0]) < shuts]


@part.post("/tended")
def create_tended(operation_id: int) -> ResponseReturnValue:
    """Note that a wait was tended: wiped, looked at, scraped."""
    operation, form = acts.the_operation(operation_id), EntryForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    key, scene = request.form.get("key", ""), acts.scene_of(operation)
    if not form.validate() or key not in {one.key for one in tendings_of(scene, scene.step(operation))}:
        acts.say(f"{operation.name}: that was noted before.")
        return acts.back()
    line = verbs.write(session(), acts.act_of(form), "tended", operation, key=key)
    acts.say(f"{operation.name}: {tending_words(key).lower()}, done {when(line.at)}.", line)
    session().commit()
    return acts.back()
