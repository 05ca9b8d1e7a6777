"""From the form of a product to its figures as the shop document has them, and back."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

import wtforms

from webapp.products.fields import plain
from webapp.products.forms import NEEDS, SLOTS, ProductForm, figures_form
from webapp.products.models import Figures, Product
from webapp.web.forms import shown
from webapp.web.rows import SPARE, Row, typed

SINGLE = (
    *("rated_at", "doubles_per", "faster_when_warm", "faster_per", "lowest", "lowest_for_hours", "counts_above"),
    *("humidity_max", "dew_gap", "open_minutes"),
)
ROW = re.compile("[a-z]+_([0-9]{1,3})_[a-z]+")
MOST_ROWS = 100


def figures_of(form: ProductForm) -> dict[str, Any]:
    """Return the figures that were typed, with the keys of the shop document and °C."""
    data = {name: _plain(form[name].data) for name in SINGLE}
    over: dict[str, list[dict[str, Any]]] = {}
    for row in form.filled("over"):
        over.setdefault(row.fields["layer"].data or "", []).append(_window(row))
    return {
        **data,
        "faster_when_warm": bool(form.faster_when_warm.data),
        "lowest_for_hours": 24 if form.lowest_for_hours.data is None else _plain(form.lowest_for_hours.data),
        "stages": [_stage(row) for row in form.filled("stage")],
        "tend": [_tend(row) for row in form.filled("tend")],
        "recoat": [_window(row) for row in form.filled("recoat")],
        "recoat_over": over,
        "missed_needs": _needs(form.missed_needs.data),
        "dust_free": form.dust_free.data or None,
    }


def _plain(value: Any) -> Any:
    return plain(value) if isinstance(value, float) else value


def _stage(row: Row) -> dict[str, Any]:
    data = row.data()
    stage = {"name": data["name"], "hours": data["hours"]}
    if data["alike"]:
        return {**stage, "doubles_per": None}
    return stage if data["per"] is None else {**stage, "doubles_per": _plain(data["per"])}


def _tend(row: Row) -> dict[str, Any]:
    data = row.data()
    times = {"at_minutes": data["at"], "within_minutes": data["within"] or 0, "minutes": data["minutes"]}
    return {"key": data["key"], **times}


def _window(row: Row) -> dict[str, Any]:
    data = row.data()
    window = {"from_hours": data["from"] or 0}
    if data["to"] is not None:
        window["to_hours"] = data["to"]
    needs = _needs(data["needs"])
    return {**window, "needs": needs} if needs else window


def _needs(text: str | None) -> list[str]:
    return [word for word in (text or "").split(", ") if word]


def typed_of(product: Product, figures: Figures) -> dict[str, Any]:
    """Return a product as the form shows it."""
    return {
        "name": product.name,
        "use": product.use,
        "family": product.family,
        "source": figures.source,
        "source_on": figures.source_on,
        "version": product.version,
        **typed_figures(figures.data),
    }


def typed_figures(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return figures as the form shows them."""
    over = [
        {"layer": layer, **_window_typed(window)}
        for layer, windows in (data.get("recoat_over") or {}).items()
        for window in windows
    ]
    return {
        **{name: data.get(name) for name in SINGLE},
        "lowest_for_hours": data.get("lowest_for_hours", 24),
        "dust_free": data.get("dust_free") or "",
        "missed_needs": ", ".join(data.get("missed_needs", ["scuff"])),
        **typed("stage", [_stage_typed(stage) for stage in data.get("stages", ())]),
        **typed("tend", [_tend_typed(tend) for tend in data.get("tend", ())]),
        **typed("recoat", [_window_typed(window) for window in data.get("recoat", ())]),
        **typed("over", over),
    }


def _stage_typed(stage: Mapping[str, Any]) -> dict[str, Any]:
    per = stage.get("doubles_per")
    alike = "doubles_per" in stage and per is None
    return {"name": stage["name"], "hours": stage["hours"], "alike": alike, "per": per}


def _tend_typed(tend: Mapping[str, Any]) -> dict[str, Any]:
    times = {"at": tend["at_minutes"], "within": tend.get("within_minutes", 0), "minutes": tend["minutes"]}
    return {"key": tend["key"], **times}


def _window_typed(window: Mapping[str, Any]) -> dict[str, Any]:
    needs = ", ".join(window.get("needs", ()))
    return {"from": window["from_hours"], "to": window.get("to_hours"), "needs": needs}


def product_form(formdata: Any, data: Mapping[str, Any]) -> ProductForm:
    """Return the form for these figures, with rows enough and every need among the choices."""
    form = figures_form(_slots([*data, *(formdata or ())]))(formdata, data=data)
    for field in form:
        if isinstance(field, wtforms.SelectField) and field.name.endswith("needs"):
            given = str(data.get(field.name) or "")
            field.choices = NEEDS if given in NEEDS else {**NEEDS, given: given}
    return form


def _slots(names: Iterable[str]) -> int:
    numbers = [int(found[1]) for name in names if (found := ROW.fullmatch(name))]
    return min(MOST_ROWS, max([SLOTS, *(number + 1 + SPARE for number in numbers)]))


def keep_unchanged(form: ProductForm, saved: ProductForm) -> None:
    """Leave each figure that reads as before exactly as it was: 55 °F may stand for 12.77 °C or for 12.7778 °C."""
    before = {field.name: field for field in saved}
    for field in form.typed_fields():
        if field.name in before and not field.errors and shown(field) == shown(before[field.name]):
            field.data = before[field.name].data
