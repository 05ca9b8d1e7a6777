"""A wait's end asks, and somebody answers: dry, tacky, wet, out of clamps; and the tending inside it."""

from datetime import timedelta

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from webapp.builds.models import Operation
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.forms import AgainForm, EntryForm
from webapp.journal.models import Entry
from webapp.journal.waits import DRY, ends, tendings_of
from webapp.journal.words import tending_words
from webapp.planning.entry import ANSWERS
from webapp.web.filters import when

part = Blueprint("wait", __name__, url_prefix="/operations/<int:operation_id>")

REACHED, NOT_YET = "reached", "not yet"  # the answers about clamps
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
    if name not in {*ends(scene, scene.step(operation)), DRY} or answer not in (*ANSWERS, REACHED, NOT_YET):
        abort(400)
    if answer in (REACHED, "dry"):
        line = _ended(form, operation, name, answer)
        acts.say(f"{operation.name}: {name} {when(line.at)}.", line)
    else:
        act, minutes = acts.act_of(form), next((count for count, _ in LATER if request.form.get("in") == str(count)), 0)
        again = act.at + timedelta(minutes=minutes) if minutes else form.again_at.data
        if again is None and "again_at" not in request.form:
            way = acts.way_back()
            return redirect(url_for(".stage", operation_id=operation.id, stage=name, answer=answer, next=way), 303)
        if again is None or again <= act.now:
            form.again_at.errors = ["Say when to look again: a time to come."]
            return _ask_again(form, operation), 422
        line = _not_yet(act, operation, name, answer, again.isoformat())
        acts.say(f"{operation.name}: {answer}. Look again {when(again)}.", line)
    session().commit()
    return acts.back()


def _ended(form: AgainForm, operation: Operation, name: str, answer: str) -> Entry:
    act = acts.act_of(form)
    if answer == REACHED:
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
    return acts.ask(
        form,
        title,
        "Look again then",
        operation=operation,
        says=("The wait goes on until then, and what follows moves with it. The test is kept.",),
        buttons=[(label, "in", str(minutes)) for minutes, label in LATER],
        fields=("again_at",),
    )


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
