"""A joint that met the cold: somebody tests it, and answers for it."""

from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from webapp.builds.models import Operation
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.air import SUSPECT, doubt
from webapp.journal.forms import TestedForm

part = Blueprint("doubt", __name__, url_prefix="/operations/<int:operation_id>/doubt")


@part.get("")
def show(operation_id: int) -> str:
    """Say what the cold may have done, and ask how it was tested."""
    return _ask(TestedForm(next=acts.way_back()), acts.the_operation(operation_id))


@part.post("")
def create(operation_id: int) -> ResponseReturnValue:
    """Note that it holds: its wait goes on by the clock, from its real start."""
    operation, form = acts.the_operation(operation_id), TestedForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask(form, operation), 422
    line = verbs.write(session(), acts.act_of(form), "overruled", operation, flag=SUSPECT, reason=form.reason.data)
    acts.say(f"{operation.name}: it holds, as you tested it.", line)
    session().commit()
    return acts.back()


def _ask(form: TestedForm, operation: Operation) -> str:
    scene = acts.scene_of(operation)
    found = doubt(scene, scene.step(operation))
    says = [found.says] if found else ["No reading says that it was too cold."]
    says.append("Where it fails, abandon it and glue it up again: both stay in the record.")
    return acts.ask(
        form, f"{operation.name}: does it hold?", "It holds", operation=operation, says=says, fields=("reason", "at")
    )
