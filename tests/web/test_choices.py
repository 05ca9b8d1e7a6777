"""A select field of ours is drawn as the library draws it."""

import pytest
import wtforms
from wtforms.widgets import Select

from webapp.web.choices import ChoiceField, Choices

ODD = [("", "nothing"), ('a"b', "<b> & 'c'"), ("5:dust free", "Coat: dust free"), ("x", "")]


class Form(wtforms.Form):
    plain = ChoiceField("Plain", choices=ODD, description="One of them.")
    under = ChoiceField("Under headings", choices=[("", "none"), ("1", "PVA", "glue"), ("2", "oil", '"fin"ish')])
    needed = ChoiceField("Needed", [wtforms.validators.InputRequired()], choices=ODD, render_kw={"class": "wide"})


@pytest.mark.parametrize("chosen", ["", 'a"b', "5:dust free", "x", "2", "not offered", None])
@pytest.mark.parametrize("name", ["plain", "under", "needed"])
def test_a_field_is_the_same(name: str, chosen: str | None) -> None:
    field = Form(data={name: chosen})[name]
    field.data = chosen
    more = {"aria-describedby": "hint", "disabled": False}
    assert field.widget(field, **more) == Select()(field, **more)


def test_fields_share_what_they_offer() -> None:
    form, offered = Form(data={"plain": "x", "under": ""}), Choices(ODD)
    for field in (form.plain, form.under):
        field.offer(offered)
    assert '<option selected value="x">x</option>' in form.plain()
    assert '<option selected value="">nothing</option>' in form.under()
    assert form.plain().count("selected") == form.under().count("selected") == 1
