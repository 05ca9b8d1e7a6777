"""A select field: choices are (value, text), or (value, text, heading they stand under)."""

from collections.abc import Callable, Iterable
from typing import Any

import wtforms
from markupsafe import Markup, escape
from wtforms.fields import choices as wtforms_choices

Choice = tuple[str, str] | tuple[str, str, str | None]


class Options(wtforms.widgets.Select):
    """The same HTML as the widget it stands for, which sorts the attributes of every option: a form has hundreds."""

    @classmethod
    def render_option(cls, choice: Any, **more: Any) -> Markup:  # type: ignore[override]  # the stubs are older
        if more or choice.render_kw or not isinstance(choice.value, str):
            return super().render_option(choice, **more)
        value, label = escape(choice.value), escape(choice.label or choice.value)
        return Markup(f'<option {"selected " if choice.selected else ""}value="{value}">{label}</option>')  # noqa: S704


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

    def offer(self, choices: Iterable[Choice]) -> None:
        """Put other choices into the field."""
        self.choices = [_option(*choice) for choice in choices]


def _option(value: str, text: str, heading: str | None = None) -> Any:
    return wtforms_choices.SelectChoice(value=value, label=text, optgroup=heading)  # type: ignore[attr-defined]
