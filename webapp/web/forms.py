"""The base of every form. Text comes in tidied (webapp/web/text.py), and as one line where there is room for one."""

from collections.abc import Iterator
from typing import Any

import wtforms
from flask import request
from markupsafe import Markup
from werkzeug.datastructures import CombinedMultiDict, MultiDict
from wtforms.validators import Length, StopValidation, ValidationError

from webapp.web.clock import AHEAD, now
from webapp.web.controls import control_of
from webapp.web.once import new_key
from webapp.web.text import tidy, tidy_line

LONGEST_SEARCH = 200
SEVERAL_LINES = (wtforms.TextAreaField, wtforms.PasswordField, wtforms.HiddenField)  # or nothing to be changed in


def searched(name: str) -> str:
    """Return the words that the address asks for: PostgreSQL takes no NUL, and SQLite no pattern without end."""
    return str(tidy_line(request.args.get(name, "")))[:LONGEST_SEARCH].strip()


def with_files(form: Any, files: Any, name: str) -> Any:
    """Return what was sent with the files of the one field that takes some; a file for another field is none of it."""
    if form is None:
        return None
    return CombinedMultiDict((form, MultiDict((name, file) for file in (files or MultiDict()).getlist(name))))


class Needed:
    """Stop with a message that says what is missing."""

    field_flags = {"required": True}

    def __init__(self, message: str = "Please fill this in.") -> None:
        self.message = message

    def __call__(self, form: wtforms.Form, field: wtforms.Field) -> None:
        if field.errors:
            raise StopValidation
        if field.data is None or (isinstance(field.data, str) and not field.data.strip()):
            raise StopValidation(self.message)


class NotAhead:
    """Refuse a moment that is still to come, and say what to do instead."""

    def __init__(self, instead: str) -> None:
        self.message = f"That is still to come. {instead}"

    def __call__(self, form: wtforms.Form, field: wtforms.Field) -> None:
        if field.data is not None and field.data > now() + AHEAD:
            raise ValidationError(self.message)


def longest(count: int) -> Length:
    return Length(max=count, message=f"At most {count} characters, please.")


def shown(field: wtforms.Field) -> str:
    """Return what a person sees in a field, for comparing two versions."""
    if isinstance(field, wtforms.BooleanField):
        return "yes" if field.data else "no"
    if isinstance(field, wtforms.SelectField):
        names = {str(value): str(text) for value, text, *_ in field.iter_choices()}
        return names.get(str(field.data), "")
    reader = getattr(field, "_value", None)
    return str(reader()) if reader else str(field.data or "")


class Form(wtforms.Form):
    """A form with its key (sent twice is once) and the version of what it edits."""

    class Meta(wtforms.Form.Meta):  # type: ignore[misc]  # the stubs do not type it
        def bind_field(self, form: Any, unbound_field: Any, options: Any) -> Any:
            filters = list(unbound_field.kwargs.get("filters", ()))
            if issubclass(unbound_field.field_class, wtforms.StringField) and not {tidy, tidy_line} & set(filters):
                tidied = tidy if issubclass(unbound_field.field_class, SEVERAL_LINES) else tidy_line
                unbound_field.kwargs["filters"] = [tidied, *filters]
            return super().bind_field(form, unbound_field, options)

        def render_field(self, field: wtforms.Field, render_kw: dict[str, Any]) -> Markup:
            return control_of(field, render_kw)

    once = wtforms.HiddenField(default=new_key)
    version = wtforms.HiddenField()

    def typed_fields(self) -> Iterator[wtforms.Field]:
        """Return the fields a person fills in."""
        return (field for field in self if not isinstance(field, wtforms.HiddenField | wtforms.SubmitField))

    def hidden_fields(self) -> Iterator[wtforms.Field]:
        """Return the fields that every page with this form carries along."""
        return (field for field in self if isinstance(field, wtforms.HiddenField))

    def populate_obj(self, obj: Any) -> None:
        """Put what was typed into a row; the key and the version of the form are not the row's."""
        for field in self.typed_fields():
            field.populate_obj(obj, field.name)

    def problems(self) -> list[tuple[str, str, str]]:
        """Return (id of the field, its label, the message) for the list at the top of a form."""
        return [(field.id, field.label.text, str(message)) for field in self for message in field.errors]
