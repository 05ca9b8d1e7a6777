"""A joint that met the cold, a coat that met the damp: somebody tests it, and answers for it."""

from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from webapp.builds.models import Operation
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.air import SUSPECT, Doubt, doubt
from webapp.journal.forms import TestedForm
from webapp.journal.scene import Scene

NONE = Doubt("No reading says that it was too cold or too damp.", "does it hold?", SUSPECT, "It holds")

part = Blueprint("doubt", __name__, url_prefix="/operations/<int:operation_id>/doubt")


@part.get("")
def show(operation_id: int) -> str:
    """Say what the air may have done, and ask how it was tested."""
    return _ask(TestedForm(next=acts.way_back()), acts.the_operation(operation_id))


@part.post("")
def create(operation_id: int) -> ResponseReturnValue:
    """Note that it is good: its wait goes on by the clock, from its real start."""
    operation, form = acts.the_operation(operation_id), TestedForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask(form, operation), 422
    flag = _doubt(acts.scene_of(operation), operation).flag
    line = verbs.write(session(), acts.act_of(form), "overruled", operation, flag=flag, reason=form.reason.data)
    acts.say(f"{operation.name}: good, as you tested it.", line)
    session().commit()
    return acts.back()


def _ask(form: TestedForm, operation: Operation) -> str:
    scene = acts.scene_of(operation)
    found = _doubt(scene, operation)
    says = [found.says, "Where it fails, abandon it and do it again: both stay in the record."]
    title = f"{operation.name}: {found.title}"
    more = {"operation": operation, "says": says, "fields": ("reason", "at")}
    heating = acts.heating(scene.room(scene.step(operation))) if found.warms else ()
    return acts.ask(form, title, found.answer, heating=heating, **more)


def _doubt(scene: Scene, operation: Operation) -> Doubt:
    """What there is to answer for; what is only to come is not."""
    found = doubt(scene, scene.step(operation))
    return found if found is not None and found.flag else NONE
