"""What a build is sold for, and the parts it is paid in."""

from decimal import Decimal
from typing import Any

from wtforms import FieldList, FormField, StringField
from wtforms import Form as Row
from wtforms.validators import ValidationError

from webapp.costs.models import Payment
from webapp.web.fields import ExactField, MoneyField
from webapp.web.forms import Form, longest

ROWS = 6
WHOLE = Decimal(100)
MOST = 10**13


class TermsForm(Form):
    price_minor = MoneyField("Price agreed", description="Without tax. Leave it empty while it is not agreed.")
    consumables_percent = ExactField(
        "Consumables, % of materials", description="Glue, paper, rags. A percentage, or a sum beside it."
    )
    consumables_minor = MoneyField("Consumables, as a sum")

    def validate_price_minor(self, field: MoneyField) -> None:
        if field.data is not None and field.data > MOST:
            raise ValidationError("That price cannot be right.")

    def validate_consumables_percent(self, field: ExactField) -> None:
        if field.data is not None and field.data > WHOLE:
            raise ValidationError("At most 100 %.")

    def validate_consumables_minor(self, field: MoneyField) -> None:
        if field.data is not None and self.consumables_percent.data is not None:
            raise ValidationError("Either a percentage or a sum, please, not both.")
        if field.data is not None and field.data > MOST:
            raise ValidationError("That sum cannot be right.")


class PaymentRow(Row):
    name = StringField("When", [longest(120)])
    percent = ExactField("Share, %")


class PaymentsForm(Form):
    rows = FieldList(FormField(PaymentRow), min_entries=ROWS, max_entries=ROWS)

    @classmethod
    def of(cls, payments: list[Payment]) -> "PaymentsForm":
        return cls(data={"rows": [{"name": payment.name, "percent": payment.percent} for payment in payments]})

    def filled(self) -> list[tuple[str, Decimal]]:
        """Return (when, percent) of the rows that were filled in."""
        rows = [entry.form for entry in self.rows.entries]
        return [(row.name.data, row.percent.data) for row in rows if row.name.data and row.percent.data is not None]

    def validate(self, extra_validators: Any = None) -> bool:
        if not super().validate(extra_validators):
            return False
        for entry in self.rows.entries:
            row = entry.form
            if bool(row.name.data) != (row.percent.data is not None):
                missing = row.percent if row.name.data else row.name
                missing.errors = ["Both, please: when it falls due, and its share."]
                return False
        total = sum((percent for _, percent in self.filled()), Decimal(0))
        if self.filled() and total != WHOLE:
            last = [entry.form for entry in self.rows.entries if entry.form.name.data][-1]
            last.percent.errors = [f"The shares add up to {total.normalize():f} %, not 100 %."]
            return False
        return True

    def problems(self) -> list[tuple[str, str, str]]:
        found = []
        for entry in self.rows.entries:
            for field in (entry.form.name, entry.form.percent):
                found += [(field.id, field.label.text, str(message)) for message in field.errors]
        return found
