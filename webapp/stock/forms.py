"""One line of a bill, as it is typed in."""

from collections.abc import Iterable, Iterator
from typing import Any

from wtforms import Field, FileField, SelectField, StringField, TextAreaField, validators

from webapp.stock.measure import Measured, measure
from webapp.stock.models import KINDS
from webapp.trade import money
from webapp.web.fields import DayField, ExactField, LengthField, WholeField
from webapp.web.forms import Form, Needed, longest, shown
from webapp.web.guard import visitor

UNITS = ("bd ft", "sq ft", "pcs", "ft", "m", "m²", "m³", "kg", "lb", "l", "gal", "qt", "sheet", "box", "pair", "set")
MOST = 10**15  # minor units: far above any bill, well inside what both databases hold


class MaterialForm(Form):
    build = SelectField("Bought for")
    kind = SelectField("Kind", choices={kind: kind for kind in KINDS})
    name = StringField("What", [Needed("Say what it is."), longest(200)])
    quantity = ExactField("Quantity as billed", [Needed("How much does the bill say?")])
    unit = StringField("Unit", [Needed("In what: bd ft, pcs, kg …"), longest(20)], render_kw={"list": "units"})
    unit_price = ExactField("Price for one", [Needed("What does one cost?")])
    bought_on = DayField("Bought on", [Needed("When was it bought?")])
    supplier = StringField("From whom", [longest(200)])
    note = TextAreaField("Note", [longest(2000)])
    receipt = FileField("Photo of the receipt", render_kw={"accept": "image/jpeg,image/png,image/webp"})
    pieces = WholeField("Pieces", [validators.Optional()], least=1, most=1000)
    thickness = LengthField("Thickness", nominal=True, description="4/4, 8/4, 3/4 in or 27 mm")
    width = LengthField("Width", description="6 1/4 in or 160 mm")
    length = LengthField("Length", description="8' or 2440 mm")

    def __init__(self, *args: Any, builds: Iterable[tuple[int, str]], **values: Any) -> None:
        super().__init__(*args, **values)
        self.build.choices = {"": "the shelf", **{str(key): name for key, name in builds}}
        self.unit_price.label.text = f"Price for one, {visitor().shop.currency}"

    def validate_quantity(self, field: ExactField) -> None:
        if field.data == 0:
            raise validators.ValidationError("A line of nothing costs nothing: give the quantity.")

    def validate_unit_price(self, field: ExactField) -> None:
        if (self.total or 0) > MOST:
            raise validators.ValidationError("Quantity and price make too large a sum. Look at both again.")

    @property
    def total(self) -> int | None:
        """What the line costs in minor units, once quantity and price can be read."""
        if self.quantity.data is None or self.unit_price.data is None:
            return None
        return money.times(self.quantity.data, self.unit_price.data, visitor().shop.currency)

    @property
    def measured(self) -> Measured | None:
        return measure(self.pieces.data or 1, self.thickness.data, self.width.data, self.length.data)

    def typed_fields(self) -> Iterator[Field]:
        return (field for field in super().typed_fields() if field is not self.receipt)

    @property
    def has_sizes(self) -> bool:
        """Whether anything of the sizes is filled in, so that they are to be seen."""
        return any(shown(field) for field in (self.pieces, self.thickness, self.width, self.length))
