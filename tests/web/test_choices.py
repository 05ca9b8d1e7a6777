"""A select field of ours is drawn as the library draws it."""

import pytest
from wtforms.fields.choices import Choice
from wtforms.widgets import Select

from webapp.web.choices import Options


@pytest.mark.parametrize("selected", [False, True])
@pytest.mark.parametrize("more", [{}, {"disabled": True}])
@pytest.mark.parametrize(
    ("value", "label"), [("7", "Glue up"), ('a"b', "<b> & 'c'"), ("", ""), ("x", None), (7, "seven"), (True, "yes")]
)
def test_options_are_the_same(value: object, label: str | None, selected: bool, more: dict[str, bool]) -> None:
    choice = Choice(value=value, label=label, selected=selected, render_kw=more)
    assert Options.render_option(choice) == Select.render_option(choice)
