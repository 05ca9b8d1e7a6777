"""Repeated rows of a form, flat: stage_0_name, stage_0_hours, stage_1_name … They work without a script."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import wtforms

from webapp.web.forms import Form, shown

SPARE = 2  # empty rows to write another into


@dataclass(frozen=True)
class Row:
    """One row of a group: its number from 0 and its fields by part."""

    number: int
    fields: Mapping[str, wtforms.Field]

    @property
    def is_empty(self) -> bool:
        return not any(_is_filled(field) for field in self.fields.values())

    def data(self) -> dict[str, Any]:
        return {part: field.data for part, field in self.fields.items()}

    def need(self, message: str, *parts: str) -> None:
        """Say at the first of these parts that is empty what is missing."""
        for part in parts:
            field = self.fields[part]
            if not _is_filled(field) and not field.errors:
                complain(field, message)
                return


def _is_filled(field: wtforms.Field) -> bool:
    if isinstance(field, wtforms.BooleanField | wtforms.SelectField):
        return False  # a tick alone makes no row
    return bool(shown(field).strip())


def complain(field: wtforms.Field, message: str) -> None:
    field.errors = [*field.errors, message]


class RowsForm(Form):
    """A form with groups of rows."""

    def rows(self, group: str) -> list[Row]:
        """Return the rows of a group, empty ones too."""
        found: dict[int, dict[str, wtforms.Field]] = {}
        for field in self:
            if field.name.startswith(f"{group}_"):
                _, number, part = field.name.split("_")
                found.setdefault(int(number), {})[part] = field
        return [Row(number, fields) for number, fields in sorted(found.items())]

    def filled(self, group: str) -> Iterator[Row]:
        return (row for row in self.rows(group) if not row.is_empty)

    def spare(self, group: str) -> list[Row]:
        """Return the empty rows to show: a few after the last filled one."""
        rows = self.rows(group)
        last = max((row.number for row in rows if not row.is_empty), default=-1)
        return rows[last + 1 : last + 1 + SPARE]


def slots(group: str, count: int, parts: Mapping[str, Any]) -> dict[str, Any]:
    """Return the fields of so many rows: parts are made by functions of a label, which is said with each row."""
    return {f"{group}_{number}_{part}": make(number + 1) for number in range(count) for part, make in parts.items()}


def typed(group: str, rows: list[dict[str, Any]]) -> dict[str, Any]:
    """Return the data of rows by the names of their fields."""
    return {f"{group}_{number}_{part}": value for number, row in enumerate(rows) for part, value in row.items()}
