"""What stands on a tin, as it is typed."""

import wtforms
from wtforms.validators import ValidationError

from webapp.web.clock import now, today
from webapp.web.fields import DayField, MomentField
from webapp.web.forms import Form, longest
from webapp.web.guard import visitor


class TinForm(Form):
    opened_on = DayField("Opened on", description="Empty: not opened yet.")
    use_by = DayField("Use by", description="The last day it is good for.")
    batch = wtforms.StringField("Batch", [longest(100)], description="As it stands on the tin.")
    made_on = DayField("Made on", description="Where the tin says no other date.")
    mixed_at = MomentField("Mixed at", description="Flakes, powder, hardener: the moment they came together.")
    frozen = wtforms.BooleanField("It has been frozen")

    def validate_opened_on(self, field: DayField) -> None:
        if field.data and field.data > today(str(visitor().zone)):
            raise ValidationError("That day is still to come. Leave it empty until it is opened.")

    def validate_mixed_at(self, field: MomentField) -> None:
        if field.data and field.data > now():
            raise ValidationError("That is still to come. Note it when it is mixed.")

    def validate_made_on(self, field: DayField) -> None:
        if field.data and self.use_by.data and field.data > self.use_by.data:
            raise ValidationError("It cannot be made after its last day. Look at the two dates again.")
        if field.data and field.data > today(str(visitor().zone)):
            raise ValidationError("That day is still to come.")

    def validate_batch(self, _field: wtforms.StringField) -> None:
        given = (self.opened_on, self.use_by, self.batch, self.made_on, self.mixed_at, self.frozen)
        if not any(one.data or one.errors for one in given):
            raise ValidationError("Say one thing of it at least: the day it was opened, its date or its batch.")
