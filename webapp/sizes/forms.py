"""The form of one size: target and tolerance are typed as makers type them."""

from collections.abc import Sequence
from typing import Any

import wtforms
from wtforms.validators import ValidationError

from webapp.builds.models import Size
from webapp.trade import lengths
from webapp.trade.sizes.fit_classes import KINDS
from webapp.web.choices import ChoiceField
from webapp.web.fields import LengthField
from webapp.web.forms import Form, Needed, longest

NOWHERE = ("", "nothing, or not looked at")


class SizeForm(Form):
    name = wtforms.StringField(
        "What is measured", [Needed("What is measured?"), longest(200)], description="Tenon thickness, case width …"
    )
    part = wtforms.StringField("Of which part", [longest(200)], render_kw={"list": "parts", "autocomplete": "off"})
    target = LengthField(
        "It should be",
        [Needed("How large should it be? 3/4, 1 1/4, 19 mm …")],
        nominal=True,
        description="3/4, 19 mm …",
    )
    tolerance = LengthField("Give or take", description="1/64, 0.2 mm …")
    goes_into = ChoiceField("Goes into", choices=[NOWHERE], default="", description="The size of its opening.")
    fit = ChoiceField("As", choices=[("", "–"), *((kind, kind) for kind in KINDS)], default="")
    note = wtforms.StringField("Note", [longest(1000)])

    def offer(self, sizes: Sequence[Size], itself: Size | None = None) -> "SizeForm":
        """Offer the other sizes of the piece as openings."""
        others = [(one.key, _called(one)) for one in sizes if one is not itself]
        assert isinstance(self.goes_into, ChoiceField)
        self.goes_into.offer([NOWHERE, *others])
        return self

    def validate_target(self, field: LengthField) -> None:
        if field.data is not None and field.data.nanometres <= 0:
            raise ValidationError("A size is more than 0.")

    def validate_tolerance(self, field: LengthField) -> None:
        if field.data and self.target.data and field.data.nanometres >= self.target.data.nanometres:
            raise ValidationError("That is as much as the size itself. Write what it may be off, like 1/64.")

    def validate_fit(self, field: ChoiceField) -> None:
        if self.goes_into.data and not field.data:
            raise ValidationError("As what does it go in?")
        if field.data and not self.goes_into.data:
            raise ValidationError("Choose what it goes into as well, or leave both empty.")

    def fill(self, size: Size) -> None:
        """Put what was typed into the row: the lengths and how they were written."""
        for name in ("name", "part", "goes_into", "fit", "note"):
            setattr(size, name, self[name].data or "")
        for name in ("target", "tolerance"):
            length = self[name].data
            setattr(size, f"{name}_typed", length.entered if length else "")
            setattr(size, f"{name}_nm", length.nanometres if length else None)


def _called(size: Size) -> str:
    return f"{size.name}, {size.part}" if size.part else size.name


def data_of(size: Size, unit: str) -> dict[str, Any]:
    """Return what the form shows of a row."""
    data: dict[str, Any] = {
        name: getattr(size, name) for name in ("name", "part", "goes_into", "fit", "note", "version")
    }
    data["target"] = lengths.read(size.target_typed, unit, nominal=True)
    data["tolerance"] = lengths.read(size.tolerance_typed, unit) if size.tolerance_typed else None
    return data
