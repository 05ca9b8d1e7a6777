"""What a size of the piece measures: it happens, so the journal has it, and each time is a line of its own."""

from flask import Blueprint, request
from flask.typing import ResponseReturnValue

from webapp.builds.models import Size
from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.forms import MeasuredForm
from webapp.web.guard import mine

part = Blueprint("size", __name__, url_prefix="/sizes/<int:size_id>")


@part.get("/measured")
def measured(size_id: int) -> str:
    """Ask what a size measures."""
    return _ask(MeasuredForm(next=acts.way_back()), mine(Size, size_id))


@part.post("/measured")
def create_measured(size_id: int) -> ResponseReturnValue:
    """Note what a size measures."""
    size, form = mine(Size, size_id), MeasuredForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask(form, size), 422
    told = {"size": size.key, "name": size.name, "actual": form.actual.data.entered, "note": form.note.data}
    line = verbs.write(session(), acts.act_of(form), "sized", build=size.build, **told)
    acts.say(f"{size.name}: {form.actual.data.entered}.", line)
    session().commit()
    return acts.back()


def _ask(form: MeasuredForm, size: Size) -> str:
    tolerance = f", give or take {size.tolerance_typed}" if size.tolerance_typed else ""
    says = (f"It should be {size.target_typed}{tolerance}.",)
    fields = ("actual", "note", "at")
    return acts.ask(form, f"Measured: {size.name}", "Keep it", build=size.build, says=says, fields=fields)
