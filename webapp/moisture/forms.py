"""Forms of readings and meters, and of the house a piece goes to."""

from collections.abc import Iterable
from typing import Any

import wtforms
from wtforms.validators import ValidationError

from webapp.moisture.models import Meter
from webapp.trade.money import read_decimal
from webapp.trade.wood import moisture_table
from webapp.trade.wood.moisture import MoistureError
from webapp.trade.wood.moisture_house import INDOORS, OUTDOORS
from webapp.trade.wood.species import coefficient
from webapp.web.choices import ChoiceField
from webapp.web.fields import HumidityField, LengthField, MomentField, ReadField, TemperatureField
from webapp.web.forms import Form, Needed, NotAhead, longest
from webapp.web.guard import visitor

ROWS = {"rows": 6}
TYPED, MEASURED = "own figures", "by hygrometer"
PLACES = [
    *((one.place, f"{one.place}: {one.low:g} to {one.high:g} %") for one in (*INDOORS, *OUTDOORS)),
    (MEASURED, "a house whose air I measured"),
    (TYPED, "figures of my own"),
]


class MoistureField(ReadField):
    """Percent of the dry weight, typed as 12, 9.9 or 9.9 %."""

    def read(self, text: str) -> float:
        value = float(read_decimal(text.rstrip("% ")))
        if value > 100:
            raise ValueError("Write the moisture as the meter shows it, from 0 to 100 %.")
        return value

    def show(self, value: Any) -> str:
        return f"{value:g}"


class MoistureForm(Form):
    reading = MoistureField(
        "The meter shows, %", [Needed("What does the meter show?")], render_kw={"inputmode": "decimal"}
    )
    meter = ChoiceField("Meter", default="")
    temperature = TemperatureField("Temperature of the wood", render_kw={"inputmode": "decimal"})
    species = ChoiceField("Wood, as the meter’s manual names it", default="")
    place = wtforms.StringField("Where on the wood", [longest(200)], description="Middle of the board, end, core …")
    at = MomentField("Read at", [NotAhead("Note what was read when it is read.")], description="Empty: now.")

    def offer(self, meters: Iterable[Meter], row: Any = None) -> None:
        """Offer the meters of the shop, the species of their tables, and what the reading names already."""
        found = list(meters)
        names = dict.fromkeys(one.name for one in found)
        species = dict.fromkeys(str(line[0]) for one in found for line in one.by_species)
        if row is not None:
            names |= {row.meter: None} if row.meter else {}
            species |= {row.species: None} if row.species else {}
        self.meter.offer([("", "a meter without a table"), *((name, name) for name in names)])
        self.species.offer([("", "not said"), *((one, one) for one in species)])
        self.has_meters, self.has_species = bool(names), bool(species)


class MeterForm(Form):
    name = wtforms.StringField("Name", [Needed("What do you call it?"), longest(200)], description="The pin meter")
    unit = ChoiceField("Temperatures in its table are in", choices=[("F", "°F"), ("C", "°C")])
    by_temperature = wtforms.TextAreaField(
        "Table by temperature of the wood",
        [longest(10_000)],
        description="A line each: temperature, what the meter shows (leave it out where the line is for any), what to "
        "add. 50 15 +2 is 2 points more at 50° where it shows 15 %.",
        render_kw=ROWS,
    )
    by_species = wtforms.TextAreaField(
        "Table by species",
        [longest(10_000)],
        description="A line each: the wood as the manual names it, what the meter shows (may be left out), what to "
        "add. White oak 12 -0.5",
        render_kw=ROWS,
    )
    species_first = wtforms.BooleanField("The manual says: species first, then temperature")

    def validate_by_temperature(self, field: wtforms.TextAreaField) -> None:
        _read(moisture_table.read_warmth, field)

    def validate_by_species(self, field: wtforms.TextAreaField) -> None:
        _read(moisture_table.read_species, field)


def _read(reader: Any, field: wtforms.TextAreaField) -> None:
    try:
        reader(field.data or "")
    except MoistureError as error:
        raise ValidationError(str(error)) from None


class HouseForm(Form):
    place = ChoiceField("Where it goes")
    low = MoistureField("Wood there in the dry season, %", render_kw={"inputmode": "decimal"})
    high = MoistureField("Wood there in the damp season, %", render_kw={"inputmode": "decimal"})
    dry_temperature = TemperatureField("Dry season, temperature")
    dry_humidity = HumidityField("Dry season, humidity of the air, %")
    damp_temperature = TemperatureField("Damp season, temperature")
    damp_humidity = HumidityField("Damp season, humidity of the air, %")
    near = MoistureField(
        "Near enough to mill: points from the shop’s own stock",
        description="2 is a common rule of the house.",
        render_kw={"inputmode": "decimal"},
    )

    def __init__(self, *args: Any, is_usual: bool, **values: Any) -> None:
        super().__init__(*args, **values)
        self.place.offer(PLACES if is_usual else [("", "as usual in this shop"), *PLACES])
        for field in (self.dry_temperature, self.damp_temperature):
            field.label.text += f", °{visitor().shop.temperature_unit}"
        if not is_usual:
            del self.near


class SlotForm(Form):
    distance = LengthField("From the line held fast to the screw", [Needed()], description="Across the grain.")
    screw = LengthField("Diameter of the screw", [Needed()])


class PanelForm(Form):
    opening = LengthField("Opening of the frame, across the grain", [Needed()])
    groove = LengthField("Depth of each groove", [Needed()])
    hold = LengthField("Must stay in each groove when dry", [Needed()])


class InsetForm(Form):
    opening = LengthField("Opening, across the grain", [Needed()])
    clear = LengthField("Gap left in the damp season, both sides together", [Needed()])


class WoodForm(Form):
    name = wtforms.StringField("Wood", [Needed("Which wood is it?"), longest(200)], description="As the parts name it.")
    radial = wtforms.StringField(
        "Change for 1 % moisture, quarter-sawn", [Needed(), longest(20)], description="A share of the width: 0.00126"
    )
    tangential = wtforms.StringField("Change for 1 % moisture, flat-sawn", [Needed(), longest(20)])
    source = wtforms.StringField("Where the figures stand", [Needed("Where do they stand?"), longest(500)])

    def validate_radial(self, field: wtforms.StringField) -> None:
        _share(field)

    def validate_tangential(self, field: wtforms.StringField) -> None:
        _share(field)


def _share(field: wtforms.StringField) -> None:
    try:
        field.data = f"{coefficient(field.data or ''):f}"
    except ValueError as error:
        raise ValidationError(str(error)) from None


class WatchForm(Form):
    name = wtforms.StringField(
        "What to look at", [Needed("What is to be looked at?"), longest(200)], description="Width of the top, mitre …"
    )
    part = ChoiceField("On which part")
    width = LengthField("Its width now, across the grain")
    moisture = MoistureField("Moisture of the wood now, %", render_kw={"inputmode": "decimal"})


class LookForm(Form):
    width = LengthField("Width found")
    note = wtforms.StringField("What you saw", [longest(1000)], description="A line at the finish, a gap …")

    def validate_note(self, field: wtforms.StringField) -> None:
        if not field.data and not self.width.data and not self.width.errors:
            raise ValidationError("Write the width, or what you saw.")
