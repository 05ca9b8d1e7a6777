"""Forms about a whole build. Those about its operations and parts stand beside their views."""

from collections.abc import Sequence
from datetime import date
from typing import Any

import wtforms
from wtforms.validators import ValidationError

from webapp.builds.methods import METHODS
from webapp.builds.models import STATUSES, Build
from webapp.builds.waiting import stage_names
from webapp.web.choices import ChoiceField
from webapp.web.fields import DayField
from webapp.web.forms import Form, Needed, longest

DELIVERED = "delivered"
WEIGHTS = [("1", "1, as usual"), ("2", "2"), ("3", "3"), ("4", "4"), ("5", "5, before all others")]
STATUS_CHOICES = [(status, status) for status in STATUSES]
NEW_STATUSES = [(status, status) for status in STATUSES[: STATUSES.index(DELIVERED)]]
HAND_OVER_ROWS = (1, 2, 3)


class DetailsForm(Form):
    """What a build is, for whom and by when."""

    name = wtforms.StringField(
        "What is it?", [Needed("The piece needs a name."), longest(200)], description="Hall table, pair of doors …"
    )
    client = wtforms.StringField("For whom", [longest(200)], description="Leave empty for your own.")
    contact = wtforms.StringField("How to reach them", [longest(300)])
    wood = wtforms.StringField("Wood", [longest(200)], render_kw={"list": "woods"})
    due_on = DayField("Promised for")
    not_before = DayField("Not before", description="No work is planned before this day.")
    weight = ChoiceField("Importance", choices=WEIGHTS, coerce=str, default="1")
    note = wtforms.TextAreaField("Note", [longest(5000)])

    def validate_due_on(self, field: DayField) -> None:
        if field.data and self.not_before.data and field.data < self.not_before.data:
            raise ValidationError("That is before the day you may begin.")

    def fill(self, build: Build) -> None:
        """Put what was typed into the row."""
        for name in ("name", "client", "contact", "wood", "note"):
            setattr(build, name, getattr(self, name).data or "")
        build.due_on = self.due_on.data
        build.not_before = self.not_before.data
        build.weight = int(self.weight.data)


class NewForm(DetailsForm):
    status = ChoiceField("Where it stands", choices=NEW_STATUSES, default="agreed")

    @property
    def methods(self) -> list[tuple[wtforms.Field, str]]:
        """Return the box of each method with what the method says of itself."""
        return [(self[method_field(method.key)], method.says) for method in METHODS]

    @property
    def chosen(self) -> list[str]:
        return [method.key for method in METHODS if self[method_field(method.key)].data]


def method_field(key: str) -> str:
    return f"method_{key.replace('-', '_')}"


for method in METHODS:
    setattr(NewForm, method_field(method.key), wtforms.BooleanField(method.name))


class EditForm(DetailsForm):
    """The details, and what must be reached before the piece is handed over."""

    def offer(self, build: Build) -> None:
        """Put the stages of the build's operations into the rows for the hand-over."""
        choices = [
            (f"{one.key}:{stage}", f"{one.name}: {stage}") for one in build.operations for stage in stage_names(one)
        ]
        for field in self.hand_over:
            field.offer([("", "nothing"), *choices])

    @property
    def hand_over(self) -> list[ChoiceField]:
        fields = [self[f"hand_over_{row}"] for row in HAND_OVER_ROWS]
        return [field for field in fields if isinstance(field, ChoiceField)]

    def fill(self, build: Build) -> None:
        super().fill(build)
        typed = dict.fromkeys(field.data for field in self.hand_over if field.data)
        rows = [dict(zip(("operation", "stage"), value.split(":", 1), strict=True)) for value in typed]
        build.done_at = rows or None

    @staticmethod
    def data_of(build: Build) -> dict[str, Any]:
        rows = build.done_at or []
        found = {f"hand_over_{n}": f"{row['operation']}:{row['stage']}" for n, row in enumerate(rows, 1)}
        return {**found, "weight": str(build.weight)}


for number in HAND_OVER_ROWS:
    setattr(EditForm, f"hand_over_{number}", ChoiceField(f"Before the hand-over, {number}", default=""))


class StatusForm(Form):
    status = ChoiceField("Where it stands", choices=STATUS_CHOICES)
    delivered_on = DayField("Delivered on", description="Asked for when it is delivered.")

    def check(self, today: date) -> bool:
        """Return whether the form can be taken; a delivery has a day, and not one to come."""
        right = self.validate()
        if right and self.status.data == DELIVERED and self.delivered_on.data is None:
            self.delivered_on.errors = ["On which day was it delivered?"]
        elif right and self.delivered_on.data and self.delivered_on.data > today:
            self.delivered_on.errors = ["That day is still to come."]
        return right and not self.delivered_on.errors

    def fill(self, build: Build) -> None:
        build.status = self.status.data
        handed_over: Sequence[str] = STATUSES[STATUSES.index(DELIVERED) : STATUSES.index("lost")]
        build.delivered_on = (self.delivered_on.data or build.delivered_on) if build.status in handed_over else None


class DeleteForm(Form):
    name = wtforms.StringField("Type the name of the piece to delete it", [Needed("Type its name.")])

    def check(self, build: Build) -> bool:
        right = self.validate()
        if right and (self.name.data or "").split() != build.name.split():
            self.name.errors = ["That is not its name. Nothing was deleted."]
            return False
        return right
