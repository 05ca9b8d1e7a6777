"""Fields of ours are drawn as the library draws them, with what belongs to them."""

from typing import Any

import pytest
import wtforms
from markupsafe import Markup, escape

from webapp.web.controls import drawn_field
from webapp.web.fields import DayField, SpanField
from webapp.web.forms import Form, Needed, longest

HOSTILE = "\"><script>'&"


class Everything(Form):
    text = wtforms.StringField("Text", [Needed(), longest(7)], description="<b>Bold</b>", render_kw={"list": "these"})
    span = SpanField("Span", render_kw={"placeholder": "45 min"})
    day = DayField("Day")
    note = wtforms.TextAreaField("Note", [longest(50)])
    tick = wtforms.BooleanField("<Tick>")
    secret = wtforms.PasswordField("Secret", render_kw={"autocomplete": "off"})
    file = wtforms.FileField("File", render_kw={"accept": ".json"})
    kind = wtforms.SelectField("Kind", choices={"a": "A"})


@pytest.fixture
def form() -> Any:
    return Everything(data={"text": HOSTILE, "span": 90, "note": HOSTILE, "tick": True})


@pytest.mark.parametrize("name", ["text", "span", "day", "note", "tick", "secret", "file", "kind"])
@pytest.mark.parametrize("more", [{}, {"value": HOSTILE, "hidden": True, "disabled": False, "rows": 3}])
def test_a_control_is_the_same(form: Any, name: str, more: dict[str, Any]) -> None:
    field = form[name]
    assert field(**more) == field.widget(field, **{**(field.render_kw or {}), **more})


def test_a_hint_and_a_message_are_tied_to_the_field(form: Any) -> None:
    form.text.errors = ["Too <long>.", "Again."]
    drawn = drawn_field(form.text, **{"class": "across"})
    assert isinstance(drawn, Markup)
    assert drawn.startswith('<div class="field across">\n<label for="text">Text</label>\n')
    assert '<p class="hint" id="text-hint">&lt;b&gt;Bold&lt;/b&gt;</p>' in drawn
    assert '<p class="wrong" id="text-wrong">Too &lt;long&gt;. Again.</p>' in drawn
    for tied in ('aria-describedby="text-hint text-wrong"', 'aria-invalid="true"', 'dir="auto"', "required"):
        assert tied in drawn
    assert f'value="{escape(HOSTILE)}"' in drawn


def test_a_tick_stands_before_its_words(form: Any) -> None:
    drawn = drawn_field(form.tick)
    assert 'class="field tick "' in drawn
    assert drawn.index("<input checked") < drawn.index('<label for="tick">&lt;Tick&gt;</label>')


def test_without_hint_or_message_nothing_points_to_one(form: Any) -> None:
    drawn = drawn_field(form.note, rows=4)
    assert 'rows="4"' in drawn
    assert not any(word in drawn for word in ("aria-", "hint", "wrong"))


def test_names_from_right_to_left_stay_in_their_message(form: Any) -> None:
    form.span.errors = ["There is no “אגוז”."]
    assert "\u2067אגוז\u2069" in drawn_field(form.span)
