"""How a field of a form is drawn: label, hint, message, and what ties them together for a screen reader.

Every field of the app is drawn here. Not by a macro: the longest form has sixty fields, and each took it as long as a
row of a table.
"""

from typing import Any

import wtforms
from flask import Flask
from markupsafe import Markup, escape
from wtforms.widgets import Input

from webapp.web.text import isolated


def init_app(app: Flask) -> None:
    app.jinja_env.globals["drawn_field"] = drawn_field


def drawn_field(field: wtforms.Field, rows: int | None = None, **look: str) -> Markup:
    """Return a field with its label; `class` is the class of the box around both."""
    hint, wrong = _line(field, "hint", field.description), _line(field, "wrong", " ".join(map(str, field.errors)))
    control = field(**_said(field, hint, wrong), **({"rows": rows} if rows else {}))
    box, label = escape(look.get("class", "")), f'<label for="{field.id}">{escape(field.label.text)}</label>'
    if field.type == "BooleanField":
        return _safe(f'<div class="field tick {box}">\n{control} {label}\n{hint}{wrong}</div>')
    return _safe(f'<div class="field {box}">\n{label}\n{hint}{control}\n{wrong}</div>')


def _said(field: wtforms.Field, hint: str, wrong: str) -> dict[str, str]:
    found = {"dir": "auto"} if field.type in ("StringField", "TextAreaField") else {}
    if hint or wrong:
        found["aria-describedby"] = " ".join(
            f"{field.id}-{kind}" for kind, line in (("hint", hint), ("wrong", wrong)) if line
        )
    return found | ({"aria-invalid": "true"} if wrong else {})


def _line(field: wtforms.Field, kind: str, text: str) -> str:
    return f'<p class="{kind}" id="{field.id}-{kind}">{escape(isolated(text))}</p>\n' if text else ""


def _safe(html: str) -> Markup:
    return Markup(html)  # noqa: S704  # what was typed is escaped in it; names of fields are ours


def control_of(field: Any, given: dict[str, Any]) -> Markup:
    """Return a field's control as its widget draws it, with a fraction of the work where that is a plain input."""
    values, widget = {**(field.render_kw or {}), **given}, field.widget
    if type(widget).__call__ is not Input.__call__:
        return Markup(widget(field, **values))  # noqa: S704  # by WTForms, or by us
    if "value" not in values:
        values["value"] = field._value()
    return _safe(f"<input {attributes(field, {'type': widget.input_type, **values})}>")


def attributes(field: Any, values: dict[str, Any]) -> str:
    """Return the attributes of a control: these values, and what the field's validators ask for."""
    asked = {name: value for name, value in vars(field.flags).items() if name in field.widget.validation_attrs}
    every = sorted({"id": field.id, **asked, **values, "name": field.name}.items())
    return " ".join(
        name if value is True else f'{name}="{escape(value)}"' for name, value in every if value is not False
    )
