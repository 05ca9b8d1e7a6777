"""Forms of the shop's settings."""

from collections.abc import Iterable

import wtforms
from wtforms.validators import ValidationError

from webapp.people.actions import LONGEST_NAME, LONGEST_PASSWORD
from webapp.shops.models import HELPER, OWNER, Room
from webapp.shops.warmth import is_wrong, range_in
from webapp.shops.week import clock
from webapp.shops.zones import zones
from webapp.trade.money import CURRENCIES
from webapp.web.choices import ChoiceField
from webapp.web.fields import (
    DayField,
    HumidityField,
    MomentField,
    MoneyField,
    SpanField,
    TemperatureField,
    TimeOfDayField,
    WholeField,
)
from webapp.web.forms import Form, Needed, NotAhead, longest
from webapp.web.guard import visitor

LENGTHS = [("in", "inches, 1 1/4 in"), ("mm", "millimetres, 32 mm")]
TEMPERATURES = [("F", "°F"), ("C", "°C")]
ROLES = [(OWNER, "owner: sees and changes everything"), (HELPER, "helper: no costs, no settings")]


# made before the fields of the shop, so that it comes before them in the list of what is wrong
MAKER = wtforms.StringField(
    "Your name", [Needed("Your name, please."), longest(100)], render_kw={"autocomplete": "name"}
)


class DetailsForm(Form):
    name = wtforms.StringField("Name of the shop", [Needed("The shop needs a name."), longest(100)])
    time_zone = ChoiceField("Time zone", choices=zones)
    currency = ChoiceField("Currency", choices=[(code, code) for code in sorted(CURRENCIES)])
    length_unit = ChoiceField("Lengths in", choices=LENGTHS)
    temperature_unit = ChoiceField("Temperatures in", choices=TEMPERATURES)


class StartForm(DetailsForm):
    maker = MAKER


class ClosedForm(Form):
    first_on = DayField("First day shut", [Needed("Which day?")])
    last_on = DayField("Last day shut", description="Leave empty for one day.")
    note = wtforms.StringField("Why", [longest(200)], description="Fair, holiday …")

    def validate_last_on(self, field: DayField) -> None:
        if field.data and self.first_on.data and field.data < self.first_on.data:
            raise ValidationError("The last day is before the first.")


class ExtraForm(Form):
    on_day = DayField("Day", [Needed("Which day?")])
    opens = TimeOfDayField("From", [Needed("From when?")])
    closes = TimeOfDayField("To", [Needed("Until when?")])

    def validate_closes(self, field: TimeOfDayField) -> None:
        if field.data is not None and self.opens.data is not None and field.data <= self.opens.data:
            raise ValidationError(f"It closes at {clock(field.data)} but opens at {clock(self.opens.data)}.")


class EquipmentForm(Form):
    name = wtforms.StringField("What", [Needed("What is it?"), longest(100)], description="Long clamps, vacuum press …")
    count = WholeField("How many", [Needed("How many are there?")], render_kw={"inputmode": "numeric"})


class RoomForm(Form):
    name = wtforms.StringField("Name", [Needed("The room needs a name."), longest(100)])
    drying_places = WholeField(
        "Pieces that may stand wet at once",
        least=1,
        description="Empty: as many as you like.",
        render_kw={"inputmode": "numeric"},
    )
    settle_minutes = SpanField("Dust hangs for", description="How long after dusty work before a coat may begin.")
    climate_day = TemperatureField("By day", description="Empty: as the shop.")
    climate_night = TemperatureField("By night", description="Empty: as the shop.")
    humidity = HumidityField("Humidity, %", description="Empty: as the shop.")


class ClimateForm(Form):
    climate_day = TemperatureField("By day", [Needed("How warm by day?")])
    climate_night = TemperatureField("By night", [Needed("How warm by night?")])
    day_from = TimeOfDayField("Day begins", [Needed("When is it warm from?")])
    day_to = TimeOfDayField("Night begins", [Needed("Until when is it warm?")])
    humidity = HumidityField("Humidity, %", [Needed("How humid?")])

    def validate_day_to(self, field: TimeOfDayField) -> None:
        if field.data is not None and self.day_from.data is not None and field.data <= self.day_from.data:
            raise ValidationError("The night begins after the day does.")


class InRoom:
    """What a form can that is about one room, or about the whole shop."""

    room_id: ChoiceField

    def offer(self, rooms: Iterable[Room]) -> None:
        """Let one of these rooms be chosen, or all."""
        self.room_id.offer([("", "the whole shop"), *((str(room.id), room.name) for room in rooms)])

    @property
    def room(self) -> int | None:
        """The id of the room that was chosen."""
        return int(self.room_id.data) if self.room_id.data else None


class AirForm(InRoom, Form):
    """What can be read off with glue on the fingers."""

    temperature = TemperatureField("Temperature", render_kw={"inputmode": "decimal", "autocomplete": "off"})
    humidity = HumidityField("Humidity, %", render_kw={"inputmode": "decimal", "autocomplete": "off"})
    room_id = ChoiceField("Where", default="")

    def validate_temperature(self, field: TemperatureField) -> None:
        if field.data is not None and is_wrong(field.data):
            raise ValidationError(range_in(visitor().shop.temperature_unit))

    def validate_humidity(self, field: HumidityField) -> None:
        if field.data is None and self.temperature.data is None and not self.temperature.errors:
            raise ValidationError("Type the temperature, the humidity or both.")

    def offer(self, rooms: Iterable[Room]) -> None:
        """Let one of these rooms be chosen, or all, and say in which unit it is measured."""
        super().offer(rooms)
        self.temperature.label.text = f"Temperature, °{visitor().shop.temperature_unit}"


class ReadingForm(AirForm):
    at = MomentField("When", [NotAhead("What will be is said under the climate.")], description="Empty: now.")
    stopped = wtforms.BooleanField(
        "Waits stand still while this holds", description="The windows are shut and nothing dries, say."
    )


class SensorForm(InRoom, Form):
    name = wtforms.StringField("Name", [Needed("A name, please."), longest(100)], description="Thermometer by the door")
    room_id = ChoiceField("Where", default="", description="For the whole shop it may name a room with each reading.")


class MakerForm(Form):
    name = wtforms.StringField("Name", [Needed("A name, please."), longest(100)])
    role = ChoiceField("May", choices=ROLES, default=HELPER)


class RateForm(Form):
    hour = MoneyField("An hour costs", [Needed("How much?")], render_kw={"inputmode": "decimal"})
    from_on = DayField("From", [Needed("From which day?")])

    def validate_hour(self, field: MoneyField) -> None:
        if field.data is not None and field.data < 0:
            raise ValidationError("Not under 0, please.")


class AccountForm(Form):
    sign_in_name = wtforms.StringField(
        "Name to sign in with", [Needed("A name, please."), longest(100)], render_kw={"autocomplete": "off"}
    )
    password = wtforms.PasswordField("First password", [Needed("A password, please."), longest(LONGEST_PASSWORD)])


class JoinForm(Form):
    joining_name = wtforms.StringField(
        "Their name", [Needed("Their name, please."), longest(LONGEST_NAME)], render_kw={"autocomplete": "off"}
    )
    code = wtforms.StringField(
        "Their code", [Needed("The code, please."), longest(40)], render_kw={"autocomplete": "off"}
    )
