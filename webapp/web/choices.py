"""A select field: choices are (value, text), or (value, text, heading they stand under)."""

from collections.abc import Callable, Iterable
from functools import cached_property
from itertools import groupby
from typing import Any

import wtforms
from markupsafe import Markup, escape
from wtforms.fields import choices as wtforms_choices

from webapp.web.controls import attributes

Choice = tuple[str, str] | tuple[str, str, str | None]


class Choices:
    """What there is to choose from; drawn once, however many fields offer it."""

    def __init__(self, given: Iterable[Choice]) -> None:
        self.given = list(given)

    @cached_property
    def rows(self) -> list[Any]:
        return [_choice(*choice) for choice in self.given]

    @cached_property
    def _html(self) -> str:
        found = []
        for heading, rows in groupby(self.rows, lambda row: row.optgroup):
            options = "".join(map(_option, rows))
            found.append(options if heading is None else f'<optgroup label="{escape(heading)}">{options}</optgroup>')
        return "".join(found)

    def html(self, chosen: Any) -> str:
        """Return the options with the chosen one selected."""
        if chosen is None:
            return self._html
        value = f'value="{escape(chosen)}">'
        return self._html.replace(f"<option {value}", f"<option selected {value}")


class Options(wtforms.widgets.Select):
    """The same HTML as the widget it stands for, which looks at every option of every field."""

    def __call__(self, field: "ChoiceField", **values: Any) -> Markup:  # type: ignore[override]  # any select field
        options = field.offered.html(field.data)
        return Markup(f"<select {attributes(field, values)}>{options}</select>")  # noqa: S704  # all of it is escaped


class ChoiceField(wtforms.SelectField):
    """One of several. What is sent and is not among them is refused."""

    widget = Options()

    def __init__(
        self,
        label: str,
        validators: Any = None,
        choices: Iterable[Choice] | Callable[[], Iterable[Choice]] = (),
        **more: Any,
    ) -> None:
        super().__init__(label, validators, **more)
        self.invalid_choice_message = "Please choose one of these."
        self.offer(choices() if callable(choices) else choices)

    def offer(self, choices: Iterable[Choice] | Choices) -> None:
        """Put other choices into the field."""
        self.offered = choices if isinstance(choices, Choices) else Choices(choices)
        self.choices = self.offered.rows


def _choice(value: str, text: str, heading: str | None = None) -> Any:
    return wtforms_choices.SelectChoice(value=value, label=text, optgroup=heading)  # type: ignore[attr-defined]


def _option(choice: Any) -> str:
    return f'<option value="{escape(choice.value)}">{escape(choice.label or choice.value)}</option>'
