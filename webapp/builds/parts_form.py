"""The form of one part: its sizes are typed as makers type them."""

from typing import Any

import wtforms

from webapp.builds.models import Part
from webapp.trade import lengths
from webapp.trade.wood.movement import CUTS
from webapp.web.choices import ChoiceField
from webapp.web.fields import LengthField, WholeField
from webapp.web.forms import Form, Needed, longest

SIDES = ("thickness", "width", "length")


class PartForm(Form):
    name = wtforms.StringField("Part", [Needed("Which part is it?"), longest(200)], description="Leg, top board …")
    count = WholeField("How many", [Needed()], least=1, default=1, render_kw={"inputmode": "numeric"})
    thickness = LengthField("Thickness", nominal=True, description="3/4, 19 mm, or as bought: 8/4.")
    width = LengthField("Width", description="3 1/4, 85 mm …")
    length = LengthField("Length", description="27 1/2, 2' 3-1/2\", 700 mm …")
    wood = wtforms.StringField(
        "Wood", [longest(200)], description="White oak, black cherry …", render_kw={"list": "woods"}
    )
    cut = ChoiceField("Sawn", choices=[("", "not said"), *((cut, cut) for cut in CUTS)], default="")
    note = wtforms.StringField("Note", [longest(1000)])

    def fill(self, part: Part) -> None:
        """Put what was typed into the row: the length and how it was written."""
        part.name, part.count = self.name.data or "", self.count.data
        part.wood, part.cut, part.note = self.wood.data or "", self.cut.data, self.note.data or ""
        for side in SIDES:
            size = self[side].data
            setattr(part, f"{side}_typed", size.entered if size else "")
            setattr(part, f"{side}_nm", size.nanometres if size else None)


def data_of(part: Part, unit: str) -> dict[str, Any]:
    """Return what the form shows of a row."""
    data: dict[str, Any] = {name: getattr(part, name) for name in ("name", "count", "wood", "cut", "note", "version")}
    for side in SIDES:
        typed = getattr(part, f"{side}_typed")
        data[side] = lengths.read(typed, unit, nominal=side == "thickness") if typed else None
    return data
