"""In which air a product is looked at: a room of the shop, or figures that somebody types to see what they would do."""

from collections.abc import Iterable

from webapp.shops.models import Room
from webapp.web.choices import ChoiceField
from webapp.web.fields import HumidityField, TemperatureField
from webapp.web.forms import Form
from webapp.web.guard import visitor


class NowForm(Form):
    room = ChoiceField("Room", default="")
    temperature = TemperatureField("Another temperature", render_kw={"inputmode": "decimal"})
    humidity = HumidityField("Another humidity, %", render_kw={"inputmode": "decimal"})

    def offer(self, rooms: Iterable[Room]) -> None:
        """Let one of these rooms be chosen, and say in which unit it is measured."""
        self.temperature.label.text = f"Another temperature, °{visitor().shop.temperature_unit}"
        offered = [(str(room.id), room.name) for room in rooms] or [("", "the shop")]
        self.room.offer(offered)
        self.room.data = self.room.data or offered[0][0]
