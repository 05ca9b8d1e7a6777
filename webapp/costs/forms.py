"""What a build is sold for, and the parts it is paid in."""

from decimal import Decimal
from typing import Any

from wtforms import StringField
from wtforms.validators import ValidationError

from webapp.web.fields import DayField, ExactField, MoneyField
from webapp.web.forms import Form, Needed, longest
from webapp.web.rows import RowsForm, complain, slots

PARTS = 8
WHOLE = Decimal(100)
MOST = 10**13  # minor units: far above any piece of furniture


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


class PaymentsForm(RowsForm):
    """The parts that have not come in yet."""

    def wanted(self) -> list[tuple[str, Decimal]]:
        """Return (when it falls due, percent) of the rows that are filled in."""
        return [(row.fields["name"].data or "", row.fields["percent"].data) for row in self.filled("part")]

    def is_right(self, paid_percent: Decimal) -> bool:
        """Return whether the parts add up to 100 % with those that came in."""
        self.validate()
        rows = list(self.filled("part"))
        for row in rows:
            row.need("Both, please: when it falls due, and its share.", "name", "percent")
        if not any(field.errors for field in self):
            total = sum((percent for _, percent in self.wanted()), paid_percent)
            if total != WHOLE and (rows or paid_percent):
                last = rows[-1].fields if rows else self.rows("part")[0].fields
                complain(last["percent"], f"The parts add up to {total.normalize():f} %, not 100 %.")
        return not any(field.errors for field in self)


def _name(number: int) -> Any:
    return StringField(f"Part {number}: due when", [longest(120)])


def _percent(number: int) -> Any:
    return ExactField(f"Share {number}, %")


PartsForm: type[PaymentsForm] = type(
    "PartsForm", (PaymentsForm,), slots("part", PARTS, {"name": _name, "percent": _percent})
)


class PaidForm(Form):
    paid_on = DayField("Came in on", [Needed("When did it come in?")])


class MarginForm(Form):
    percent = ExactField("Percent", [Needed("How many percent?")])

    def validate_percent(self, field: ExactField) -> None:
        if field.data >= WHOLE:
            raise ValidationError("A margin is a share of the price: less than 100 %.")
