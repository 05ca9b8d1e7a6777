"""The form of one operation: its fields. What may be chosen and what goes together is in `operations_check.py`."""

from decimal import Decimal
from typing import Any

import wtforms
from wtforms.validators import ValidationError

from webapp.web.choices import ChoiceField
from webapp.web.fields import DayField, ExactField, MomentField, SpanField, WholeField
from webapp.web.forms import Form, Needed, longest

WAITS, HOLDS, STAGES, TENDS = range(1, 5), range(1, 4), range(1, 4), range(1, 4)
ENDS = {  # of the names of a row's fields
    "wait": ("", "_lag", "_within"),
    "hold": ("", "_count", "_until"),
    "stage": ("", "_hours"),
    "tend": ("", "_at", "_within", "_minutes"),
}
AS_KIND = [("", "as its kind"), ("yes", "yes"), ("no", "no")]
LONGEST_WAIT = 8760  # hours in a year: the planner gives up a wait that is longer
SPANS = {"placeholder": "45 min"}


class OperationForm(Form):
    name = wtforms.StringField("What is done", [Needed("Say what is done."), longest(200)])
    kind = wtforms.StringField(
        "Kind",
        [Needed("Choose a kind, or write a word of your own."), longest(60)],
        description="Any word will do.",
        render_kw={"list": "kinds", "autocomplete": "off"},
    )
    group = wtforms.StringField(
        "Part of the piece", [longest(100)], description="Top, base, drawers …", render_kw={"list": "groups"}
    )
    minutes = SpanField(
        "Hands-on time",
        [Needed("How long will hands be at work?")],
        description="Like 45, 1:30 or 2 h.",
        render_kw=SPANS,
    )
    low = SpanField("At best", render_kw=SPANS)
    high = SpanField("At worst", render_kw=SPANS)
    count = WholeField("How many alike", [Needed()], least=1, default=1, render_kw={"inputmode": "numeric"})
    makers = WholeField("People needed", [Needed()], least=1, most=20, default=1, render_kw={"inputmode": "numeric"})
    product_id = ChoiceField("Glue or finish", default="")
    room_id = ChoiceField("Room", default="")
    over_id = ChoiceField("A layer over", default="", description="The layer below rules when.")
    split = ChoiceField("May be left at closing time and taken up again", choices=AS_KIND, default="")
    dusty = ChoiceField("Raises dust", choices=AS_KIND, default="")
    assembly_minutes = SpanField(
        "The dry run took", description="Held against the open time of the glue.", render_kw=SPANS
    )
    not_before = MomentField("Not before", description="Hardware that is due, say.")
    pinned_at = MomentField("Fixed to begin at")
    pinned_on = DayField("Or fixed to the day")
    again_for_id = ChoiceField("Does again what was given up", default="")
    note = wtforms.TextAreaField("Note", [longest(5000)])

    def validate_minutes(self, field: SpanField) -> None:
        if field.data < 1:
            raise ValidationError("At least a minute.")

    def validate_low(self, field: SpanField) -> None:
        if field.data is not None and self.minutes.data and not 1 <= field.data <= self.minutes.data:
            raise ValidationError("At best it takes no longer than the likely time, and at least a minute.")

    def validate_high(self, field: SpanField) -> None:
        if field.data is not None and self.minutes.data and field.data < self.minutes.data:
            raise ValidationError("At worst it takes no less than the likely time.")

    def validate_pinned_on(self, field: DayField) -> None:
        if field.data and self.pinned_at.data:
            raise ValidationError("Fix it to a moment or to a day, not to both.")

    def row(self, name: str, number: int) -> list[wtforms.Field]:
        """Return the fields of one row: wait, hold, stage or tend."""
        return [self[f"{name}_{number}{end}"] for end in ENDS[name]]

    def rows(self, name: str, numbers: range) -> list[list[wtforms.Field]]:
        return [self.row(name, number) for number in numbers]

    def choice(self, name: str) -> ChoiceField:
        field = self[name]
        assert isinstance(field, ChoiceField)
        return field

    def is_touched(self, *names: str) -> bool:
        """Return whether any of these fields holds more than nothing or one, or says that something is wrong."""
        return any(self[name].errors or self[name].data not in (None, "", 1) for name in names)

    def are_touched(self, rows: list[list[wtforms.Field]]) -> bool:
        return self.is_touched(*(field.name for row in rows for field in row))

    def value(self, name: str) -> Any:
        return self[name].data


class HoursField(ExactField):
    """Hours of a wait, with decimals."""

    def read(self, text: str) -> Decimal:
        hours: Decimal = super().read(text.lower().removesuffix("h").rstrip())
        if hours > LONGEST_WAIT:
            raise ValueError("A wait of more than a year cannot be planned.")
        return hours


def _add(name: str, field: Any) -> None:
    setattr(OperationForm, name, field)


def _row(label: str, number: int) -> str:
    return label if number == 1 else f"{label}, {number}"


for n in WAITS:
    _add(f"wait_{n}", ChoiceField(_row("Waits for", n), default=""))
    _add(f"wait_{n}_lag", SpanField(_row("And then another", n), render_kw=SPANS))
    _add(f"wait_{n}_within", SpanField(_row("Begun within", n), render_kw=SPANS))
for n in HOLDS:
    _add(f"hold_{n}", ChoiceField(_row("Holds", n), default=""))
    _add(f"hold_{n}_count", WholeField(_row("How many", n), least=1, render_kw={"inputmode": "numeric"}))
    until = {"list": "stages", "placeholder": "its work is done"}
    _add(f"hold_{n}_until", wtforms.StringField(_row("Until", n), [longest(100)], render_kw=until))
for n in STAGES:
    _add(f"stage_{n}", wtforms.StringField(_row("Its own wait", n), [longest(100)], render_kw={"list": "stages"}))
    _add(f"stage_{n}_hours", HoursField(_row("Hours", n), render_kw={"inputmode": "decimal"}))
for n in TENDS:
    _add(f"tend_{n}", wtforms.StringField(_row("Look after it", n), [longest(60)], render_kw={"placeholder": "wipe"}))
    _add(f"tend_{n}_at", SpanField(_row("After", n), render_kw=SPANS))
    _add(f"tend_{n}_within", SpanField(_row("Or up to so much later", n), render_kw=SPANS))
    _add(f"tend_{n}_minutes", SpanField(_row("Takes", n), render_kw=SPANS))
