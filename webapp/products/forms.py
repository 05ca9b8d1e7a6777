"""A product with every figure of its label, and where the figures come from."""

from functools import lru_cache, partial
from typing import Any

import wtforms

from webapp.products.fields import HoursField
from webapp.products.models import FINISH, GLUE
from webapp.web.fields import DayField, HumidityField, SpanField, TemperatureField
from webapp.web.forms import Needed, longest
from webapp.web.rows import RowsForm, slots

SLOTS = 8
NEEDS = {
    "": "nothing",
    "sand": "sand first",
    "wash": "wash first",
    "scuff": "scuff first",
    "wash, sand": "wash, then sand",
    "sand, wash": "sand, then wash",
}


class ProductForm(RowsForm):
    name = wtforms.StringField("Name", [Needed("What do you call it?"), longest(100)])
    use = wtforms.SelectField("It is a", choices={GLUE: "glue", FINISH: "finish"})
    family = wtforms.StringField(
        "Family",
        [Needed("Which family does it belong to?"), longest(100)],
        render_kw={"list": "families"},
        description="Generic: pva, oil, varnish …",
    )

    rated_at = TemperatureField("The times are for", description="The temperature the label speaks of.")
    doubles_per = TemperatureField(
        "Twice as long for each … colder", difference=True, description="Empty: cold or warm makes no difference."
    )
    faster_when_warm = wtforms.BooleanField("Warmer shortens the times too")
    faster_per = TemperatureField(
        "Half as long for each … warmer", difference=True, description="Empty: as for colder."
    )
    lowest = TemperatureField(
        "Never colder than", description="Colder than this it does not hold, however long it lies."
    )
    lowest_for_hours = HoursField("Not that cold until so long after the work")
    counts_above = TemperatureField("Hours count only above", description="Below it the wait stands still.")
    humidity_max = HumidityField("Air no damper than, %", description="While it is put on.")
    dew_gap = TemperatureField("Above the dew point by", difference=True, description="While it is put on.")
    open_minutes = SpanField("Open time", description="From the first glue to the last clamp.")

    dust_free = wtforms.StringField(
        "Dust spoils it until",
        [longest(100)],
        description="The name of one of the stages above. Empty: dust does it no harm.",
    )
    missed_needs = wtforms.SelectField("When no window is left", choices=NEEDS, default="scuff")

    source = wtforms.TextAreaField("Where the figures come from", [Needed("Say where they come from."), longest(2000)])
    source_on = DayField("Read there on", [Needed("When did you read them there?")])
    why = wtforms.StringField("Why they change", [longest(500)])

    @property
    def slots(self) -> int:
        return len(self.rows("stage"))


def _text(label: str, number: int, **values: Any) -> Any:
    return wtforms.StringField(label.format(number), [longest(100)], **values)


def _field(kind: Any, label: str, number: int, **values: Any) -> Any:
    return kind(label.format(number), **values)


GROUPS: dict[str, dict[str, Any]] = {
    "stage": {
        "name": partial(_text, "Stage {}"),
        "hours": partial(_field, HoursField, "Stage {}: after"),
        "alike": partial(_field, wtforms.BooleanField, "Stage {}: no known rule for the cold"),
        "per": partial(_field, TemperatureField, "Stage {}: doubles per", difference=True),
    },
    "tend": {
        "key": partial(_text, "Then {}"),
        "at": partial(_field, SpanField, "Then {}: after"),
        "within": partial(_field, SpanField, "Then {}: within"),
        "minutes": partial(_field, SpanField, "Then {}: takes"),
    },
    "recoat": {
        "from": partial(_field, HoursField, "Window {}: from"),
        "to": partial(_field, HoursField, "Window {}: until"),
        "needs": partial(_field, wtforms.SelectField, "Window {}: needs", choices=NEEDS, default=""),
    },
    "over": {
        "layer": partial(_text, "Over {}", render_kw={"list": "layers"}),
        "from": partial(_field, HoursField, "Over {}: from"),
        "to": partial(_field, HoursField, "Over {}: until"),
        "needs": partial(_field, wtforms.SelectField, "Over {}: needs", choices=NEEDS, default=""),
    },
}


@lru_cache
def figures_form(count: int = SLOTS) -> type[ProductForm]:
    """Return the form with so many rows in each group."""
    fields: dict[str, Any] = {}
    for group, parts in GROUPS.items():
        fields |= slots(group, count, parts)
    return type("FiguresForm", (ProductForm,), fields)
