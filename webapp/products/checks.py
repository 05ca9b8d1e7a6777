"""What is wrong with the figures of a product, said beside the field it is about.

The shape and the ranges are those of the shop document's own schema; what a schema cannot say is checked here.
"""

from collections.abc import Container, Iterator
from itertools import pairwise
from math import inf
from typing import Any

import wtforms
from jsonschema import Draft202012Validator

from webapp.planning.schema import PRODUCT
from webapp.products.forms import ProductForm
from webapp.products.reading import figures_of
from webapp.web.fields import ReadField
from webapp.web.filters import temperature
from webapp.web.rows import Row, complain

SCHEMA = Draft202012Validator(PRODUCT)
NEEDED = {
    "stage": ("Fill in the name and the hours of this stage, or empty both.", ("name", "hours")),
    "tend": ("Say what is to be done, how long after, and how long it takes.", ("key", "at", "minutes")),
    "over": ("Say over what, and from when.", ("layer", "from")),
}


def is_right(form: ProductForm, layers: Container[str]) -> bool:
    """Return whether the form can be taken, else say what to mend.

    `layers` are the products and families of the shop that another layer may lie over.
    """
    form.validate()
    _check_rows(form)
    _check_names(form)
    _check_temperatures(form)
    _check_dust(form)
    _check_layers(form, layers)
    _check_windows(form)
    if not any(field.errors for field in form):
        _check_shape(form)
    return not any(field.errors for field in form)


def _check_rows(form: ProductForm) -> None:
    for group, (message, parts) in NEEDED.items():
        for row in form.filled(group):
            row.need(message, *parts)
    for row in form.filled("tend"):
        if row.fields["minutes"].data == 0:
            complain(row.fields["minutes"], "At least 1 min, please.")
    for row in form.filled("stage"):
        if row.fields["alike"].data and row.fields["per"].data is not None:
            complain(row.fields["per"], "Either no known rule, or a rule of its own. Empty one of the two.")


def _check_names(form: ProductForm) -> None:
    for group, part, what in (("stage", "name", "stage"), ("tend", "key", "work")):
        seen: set[str] = set()
        for row in form.filled(group):
            name = row.fields[part].data or ""
            if name in seen:
                complain(row.fields[part], f"There is another {what} “{name}”. Each needs a name of its own.")
            seen.add(name)


def _check_temperatures(form: ProductForm) -> None:
    needs_base = form.doubles_per.data is not None or any(row.fields["per"].data for row in form.filled("stage"))
    if needs_base and form.rated_at.data is None and not form.rated_at.errors:
        complain(form.rated_at, "A rule for the cold has to say which temperature the times are for.")
    for field in _steps(form):
        if field.data == 0:
            complain(field, "More than 0, or leave it empty.")
    if form.lowest.data is not None and form.rated_at.data is not None and form.lowest.data > form.rated_at.data:
        complain(form.lowest, f"The times are for {temperature(form.rated_at.data)}: the lowest cannot be above that.")
    if form.open_minutes.data == 0:
        complain(form.open_minutes, "At least 1 min, or leave it empty.")


def _steps(form: ProductForm) -> Iterator[ReadField]:
    yield form.doubles_per
    yield form.faster_per
    for row in form.filled("stage"):
        if isinstance(row.fields["per"], ReadField):
            yield row.fields["per"]


def _check_dust(form: ProductForm) -> None:
    names = [name for row in form.filled("stage") if (name := row.fields["name"].data)]
    if form.dust_free.data and form.dust_free.data not in names:
        have = f"The stages are {', '.join(names)}." if names else "There are no stages yet."
        complain(form.dust_free, f"There is no stage “{form.dust_free.data}”. {have}")


def _check_layers(form: ProductForm, layers: Container[str]) -> None:
    own = {form.name.data, form.family.data}
    for row in form.filled("over"):
        layer = row.fields["layer"].data
        if layer and layer not in layers and layer not in own:
            complain(row.fields["layer"], f"There is no product or family “{layer}” in the shop. Pick one of the list.")


def _check_windows(form: ProductForm) -> None:
    groups: dict[Any, list[Row]] = {None: list(form.filled("recoat"))}
    for row in form.filled("over"):
        groups.setdefault(row.fields["layer"].data, []).append(row)
    for rows in groups.values():
        spans = [(row, row.fields["from"].data or 0, _end(row)) for row in rows]
        for row, start, end in spans:
            if start >= end:
                complain(row.fields["to"], "This window ends before it begins.")
        for earlier, later in pairwise(spans):
            if later[1] < earlier[2]:
                complain(later[0].fields["from"], "This window begins before the one above it ends. Put them in order.")


def _end(row: Row) -> float:
    end = row.fields["to"].data
    return inf if end is None else float(end)


def _check_shape(form: ProductForm) -> None:
    """Say whatever else the schema has against it, at the field it names or else at the first."""
    mapping = {"name": form.name.data, "family": form.family.data, **figures_of(form)}
    for error in SCHEMA.iter_errors(mapping):
        complain(_field_at(form, list(error.absolute_path)), f"This cannot be: {error.message}.")


def _field_at(form: ProductForm, path: list[Any]) -> wtforms.Field:
    name = str(path[0]) if path else "name"
    if name in form:
        return form[name]
    group = {"stages": "stage", "tend": "tend", "recoat": "recoat", "recoat_over": "over"}.get(name, "")
    rows = list(form.filled(group)) if group else []
    index = path[1] if len(path) > 1 and isinstance(path[1], int) and path[1] < len(rows) else 0
    return next(iter(rows[index].fields.values())) if rows else form.name
