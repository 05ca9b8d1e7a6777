"""Forms of the verbs. Each carries the id of the line it writes, made when the page was made."""

import re
from datetime import date, datetime
from typing import Any

import wtforms
from wtforms.validators import NumberRange, ValidationError
from wtforms.validators import Optional as MayLack

from webapp.planning.entry import LONGEST_REMEMBERED
from webapp.web.clock import now, today
from webapp.web.fields import DayField, LengthField, MomentField, SpanField, WholeField
from webapp.web.forms import Form, Needed, longest
from webapp.web.guard import visitor
from webapp.web.once import new_key

LONGEST_NOTE = 5000
OF_A_PAGE = re.compile("(?!photo-)[0-9a-z-]{1,64}", re.IGNORECASE)


def not_to_come(_form: wtforms.Form, field: wtforms.Field) -> None:
    moment = field.data
    if isinstance(moment, datetime) and moment > now():
        raise ValidationError("That is still to come. Give the time it was.")


def no_day_to_come(_form: wtforms.Form, field: wtforms.Field) -> None:
    if isinstance(field.data, date) and field.data > today(str(visitor().zone)):
        raise ValidationError("That day is still to come.")


class IdField(wtforms.HiddenField):
    """The id of a line as pages make it; any other gives way to a new one.

    Lines of photos (photo-7) and those that follow from another (7f….early) have ids that nobody may take before them.
    """

    def process_formdata(self, valuelist: list[Any]) -> None:
        super().process_formdata([text for text in valuelist if OF_A_PAGE.fullmatch(str(text))])


class EntryForm(Form):
    """What every verb may be told: its id, the way back, and a time earlier than now."""

    id = IdField(default=new_key)
    next = wtforms.HiddenField()
    at = MomentField("When it was", [MayLack(), not_to_come], description="Leave it empty for now.")


class StartForm(EntryForm):
    reason = wtforms.StringField("Why now", [longest(500)])


class AbandonForm(EntryForm):
    reason = wtforms.StringField("What went wrong", [Needed("A word or two, please."), longest(500)])


class TestedForm(EntryForm):
    reason = wtforms.StringField("How it was tested", [Needed("How? An offcut broken in the wood, say."), longest(500)])


class AgainForm(EntryForm):
    """An answer to a wait's end: dry, or tacky or wet and then when to look again."""

    stage = wtforms.HiddenField(validators=[Needed()])
    answer = wtforms.HiddenField(validators=[Needed()])
    again_at = MomentField("Or at", [MayLack()])


class CountForm(EntryForm):
    done = WholeField("Done so far", [Needed("How many are done?"), NumberRange(0, 100_000)])


class MeasuredForm(EntryForm):
    actual = LengthField("It measures", [Needed("What does it measure? 3/4, 1 1/4, 19 mm …")])
    note = wtforms.StringField("Note", [longest(500)])


class NoteForm(EntryForm):
    note = wtforms.TextAreaField("Note", [Needed("Nothing is written yet."), longest(LONGEST_NOTE)])


class HoursForm(EntryForm):
    """Hours filled in afterwards, in one line."""

    operation = wtforms.SelectField("At what", coerce=int)
    minutes = SpanField("How long", [Needed("How long was it? 45, 1:30 or 1 h 30 min.")])
    day = DayField("On what day", [Needed("On which day?"), no_day_to_come])
    note = wtforms.StringField("Note", [longest(500)])
    is_done = wtforms.BooleanField("and with that it is done")

    def validate_minutes(self, field: wtforms.Field) -> None:
        if not 0 < field.data <= LONGEST_REMEMBERED:
            raise ValidationError("From 1 min to 24 h at a time.")


class ShopTimeForm(EntryForm):
    what = wtforms.StringField("What", [Needed("What was it?"), longest(100)])


class StoppedForm(EntryForm):
    at = MomentField("Stopped at", [Needed("When did it stop?"), not_to_come])


class EditForm(EntryForm):
    """A correction: the time, and the words or figures that the line has."""

    at = MomentField("When it was", [Needed("When was it?"), not_to_come])
    note = wtforms.TextAreaField("Note", [longest(LONGEST_NOTE)])
    reason = wtforms.StringField("Reason", [longest(500)])
    minutes = SpanField("How long", [Needed("How long was it?")])
    day = DayField("On what day", [MayLack(), no_day_to_come])
    done = WholeField("Done so far", [Needed("How many are done?"), NumberRange(0, 100_000)])
    why = wtforms.StringField("Why it is corrected", [longest(500)])

    KEPT = ("at", "why")

    def only(self, *names: str) -> "EditForm":
        """Keep the fields that the line has."""
        for name in ("note", "reason", "minutes", "day", "done"):
            if name not in names:
                delattr(self, name)
        return self

    def changes(self) -> dict[str, Any]:
        """Return the data as corrected; a field left empty takes its words away."""
        found = {field.name: field.data for field in self.typed_fields() if field.name != "at"}
        if found.get("day") is not None:
            found["day"] = found["day"].isoformat()
        return found
