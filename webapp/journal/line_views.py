"""Lines written by hand: notes, hours filled in afterwards; and putting lines right or taking them back."""

from datetime import date, datetime
from typing import Any

from flask import Blueprint, flash, request
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build, Operation
from webapp.db.session import session
from webapp.journal import actions, acts, verbs
from webapp.journal.forms import EditForm, EntryForm, HoursForm, NoteForm
from webapp.journal.lines import standing
from webapp.journal.models import Entry
from webapp.journal.reading import entry_of
from webapp.journal.words import entry_words
from webapp.planning import instants
from webapp.planning.corrections import correction
from webapp.planning.entry import Entry as Line
from webapp.web.clock import now, today
from webapp.web.filters import span
from webapp.web.guard import mine, visitor

part = Blueprint("line", __name__)

FULL_DAY_ENDS = 17 * 60
# the fields of a correction beside the time, by kind of line
EDITED = {"noted": ("note",), "abandoned": ("reason",), "worked": ("minutes", "day", "note"), "counted": ("done",)}


@part.get("/operations/<int:operation_id>/note")
def operation_note(operation_id: int) -> str:
    """Ask for a note about an operation."""
    return _ask_for_note(NoteForm(next=acts.way_back()), acts.the_operation(operation_id))


@part.post("/operations/<int:operation_id>/note")
def create_operation_note(operation_id: int) -> ResponseReturnValue:
    """Keep a note about an operation."""
    return _note(acts.the_operation(operation_id))


@part.get("/builds/<int:build_id>/note")
def build_note(build_id: int) -> str:
    """Ask for a note about a build."""
    return _ask_for_note(NoteForm(next=acts.way_back()), None, mine(Build, build_id))


@part.post("/builds/<int:build_id>/note")
def create_build_note(build_id: int) -> ResponseReturnValue:
    """Keep a note about a build."""
    return _note(None, mine(Build, build_id))


@part.get("/journal/note")
def note() -> str:
    """Ask for a note about the shop."""
    return _ask_for_note(NoteForm(next=acts.way_back()))


@part.post("/journal/note")
def create_note() -> ResponseReturnValue:
    """Keep a note about the shop."""
    return _note()


def _note(operation: Operation | None = None, build: Build | None = None) -> ResponseReturnValue:
    form = NoteForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_for_note(form, operation, build), 422
    line = verbs.write(session(), acts.act_of(form), "noted", operation, build, note=form.note.data)
    acts.say("Noted.", line)
    session().commit()
    return acts.back()


def _ask_for_note(form: NoteForm, operation: Operation | None = None, build: Build | None = None) -> str:
    about = operation or build
    title = f"Note: {about.name}" if about else "Note about the shop"
    more = {"operation": operation, "build": build, "rows": {"note": 5}, "fields": ("note", "at")}
    return acts.ask(form, title, "Keep the note", **more)


@part.get("/operations/<int:operation_id>/hours")
def operation_hours(operation_id: int) -> str:
    """Ask for hours that were worked without a clock."""
    operation = acts.the_operation(operation_id)
    return _ask_for_hours(_hours_form(operation.build, operation=operation.id), operation.build)


@part.get("/builds/<int:build_id>/hours")
def build_hours(build_id: int) -> str:
    """Ask for hours of a build that were worked without a clock."""
    build = mine(Build, build_id)
    return _ask_for_hours(_hours_form(build), build)


@part.post("/operations/<int:operation_id>/hours")
def create_operation_hours(operation_id: int) -> ResponseReturnValue:
    """Fill in remembered hours of an operation."""
    return _fill_in(acts.the_operation(operation_id).build)


@part.post("/builds/<int:build_id>/hours")
def create_hours(build_id: int) -> ResponseReturnValue:
    """Fill in remembered hours of a build."""
    return _fill_in(mine(Build, build_id))


def _fill_in(build: Build) -> ResponseReturnValue:
    form = _offer(HoursForm(request.form), build)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_for_hours(form, build), 422
    operation = next((one for one in build.operations if one.id == form.operation.data), None)
    line = _worked(form, build, operation)
    acts.say(f"{operation.name if operation else build.name}: {span(form.minutes.data)} filled in.", line)
    session().commit()
    return acts.back()


def _worked(form: HoursForm, build: Build, operation: Operation | None) -> Entry:
    at = _end_of(form.day.data)
    act = verbs.Act(str(form.id.data), at, now(), build.shop_id, visitor().maker_id)
    minutes, day = form.minutes.data, form.day.data.isoformat()
    if form.is_done.data and operation is not None:
        label = acts.scene_of(operation).label(operation)
        figures = label.id if label else None
        return verbs.write(session(), act, "done", operation, minutes=minutes, day=day, figures=figures)
    about = {"operation": operation} if operation else {"build": build}
    return verbs.write(session(), act, "worked", **about, minutes=minutes, day=day, note=form.note.data)


def _end_of(day: date) -> datetime:
    """When remembered work of a day is put: at the end of its afternoon, not later than now."""
    return min(now(), instants.moment(instants.local(day, FULL_DAY_ENDS, visitor().zone)))


def _hours_form(build: Build, **values: Any) -> HoursForm:
    return _offer(HoursForm(day=today(str(visitor().zone)), next=acts.way_back(), **values), build)


def _offer(form: HoursForm, build: Build) -> HoursForm:
    form.operation.choices = [(one.id, one.name) for one in build.operations] + [(0, "the build as a whole")]
    return form


def _ask_for_hours(form: HoursForm, build: Build) -> str:
    says = ("Hours worked without the clock, in one line. The journal marks them remembered.",)
    fields = ("minutes", "operation", "day", "note", "is_done")
    return acts.ask(form, "Fill in hours", "Fill in", build=build, says=says, fields=fields)


@part.get("/entries/<entry_id>/edit")
def edit(entry_id: str) -> str:
    """Show a line to be put right."""
    line = standing(session(), mine(Entry, entry_id))
    return _ask_for_edit(_edit_form(line), line)


@part.post("/entries/<entry_id>/edit")
def update(entry_id: str) -> ResponseReturnValue:
    """Put a line right by another one; both stay."""
    line = standing(session(), mine(Entry, entry_id))
    form = EditForm(request.form).only(*EDITED.get(line.kind, ()))
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask_for_edit(form, line), 422
    data = {key: value for key, value in {**line.data, **form.changes()}.items() if value not in (None, "")}
    mended = correction(line, str(form.id.data), arrived=now(), at=form.at.data, data=data)
    kept = actions.keep(session(), mended, visitor().shop.id)
    acts.say("Put right. The line as it was is kept too.", kept)
    session().commit()
    return acts.back()


def _edit_form(line: Line) -> EditForm:
    values: dict[str, Any] = {key: line.data[key] for key in ("note", "reason", "minutes", "done") if key in line.data}
    if line.word("day"):
        values["day"] = datetime.fromisoformat(str(line.word("day"))).date()
    form = EditForm(at=line.at, next=acts.way_back(), **values)
    return form.only(*EDITED.get(line.kind, ()))


def _ask_for_edit(form: EditForm, line: Line) -> str:
    fields = ("at", *EDITED.get(line.kind, ()), "why")
    return acts.ask(form, f"Put right: {entry_words(line)}", "Put right", fields=fields, rows={"note": 5})


def _told(row: Entry) -> str:
    name = f", {row.operation.name}" if row.operation else ""
    return entry_words(entry_of(row)) + name


@part.post("/entries/<entry_id>/undo")
def undo(entry_id: str) -> ResponseReturnValue:
    """Take a line back, for ever if need be; taking that back brings it in again."""
    wrong, form = mine(Entry, entry_id), EntryForm(request.form)
    line = verbs.undo(session(), acts.act_of(form, anyway=True), wrong)
    if line is None:
        flash("That was taken back already.")
    else:
        acts.say("In again." if wrong.kind == "withdrawn" else f"Taken back: {_told(wrong)}.", line)
    session().commit()
    return acts.back()
