"""An operation's row put into its form, and back. Lists of the row are numbered fields of the form."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from sqlalchemy.orm.attributes import flag_modified

from webapp.builds.models import Hold, Link, Operation
from webapp.builds.operations_form import HOLDS, STAGES, TENDS, WAITS, OperationForm
from webapp.builds.operations_offers import wait_value

PLAIN = ("name", "group", "minutes", "low", "high", "count", "makers", "note")
TIMES = ("assembly_minutes", "not_before", "pinned_at", "pinned_on")
CHOSEN = ("room_id", "product_id", "over_id", "again_for_id")
YES_NO = {"": None, "yes": True, "no": False}
SAID = {None: "", True: "yes", False: "no"}


@dataclass(frozen=True)
class Waiting:
    """One row of what an operation waits for, and the number of the row."""

    number: int
    operation_id: int
    stage: str | None
    lag: int
    within: int | None


def data_of(operation: Operation) -> dict[str, Any]:
    """Return what the form shows of a row."""
    data: dict[str, Any] = {name: getattr(operation, name) for name in (*PLAIN, *TIMES, "kind", "version")}
    data |= {name: str(getattr(operation, name) or "") for name in CHOSEN}
    data |= {"split": SAID[operation.split], "dusty": SAID[operation.dusty]}
    for number, link in enumerate(operation.after, 1):
        data[f"wait_{number}"] = wait_value(link)
        data[f"wait_{number}_lag"] = link.lag_minutes or None
        data[f"wait_{number}_within"] = link.within_minutes
    for number, hold in enumerate(operation.holds, 1):
        data[f"hold_{number}"], data[f"hold_{number}_count"] = str(hold.equipment_id), hold.count
        data[f"hold_{number}_until"] = hold.until or ""
    for number, stage in enumerate(operation.stages or (), 1):
        data[f"stage_{number}"], data[f"stage_{number}_hours"] = stage["name"], Decimal(str(stage["hours"]))
    for number, tend in enumerate(operation.tend or (), 1):
        data[f"tend_{number}"], data[f"tend_{number}_at"] = tend["key"], tend["at_minutes"]
        data[f"tend_{number}_within"] = tend.get("within_minutes", 0)
        data[f"tend_{number}_minutes"] = tend["minutes"]
    return data


def waits(form: OperationForm) -> list[Waiting]:
    """Return what was chosen to wait for."""
    found = []
    for number in WAITS:
        key, _, stage = (form.value(f"wait_{number}") or "").partition(":")
        if key:
            lag, within = form.value(f"wait_{number}_lag"), form.value(f"wait_{number}_within")
            found.append(Waiting(number, int(key), stage or None, lag or 0, within))
    return found


def own_stages(form: OperationForm) -> list[dict[str, Any]]:
    rows = [(form.value(f"stage_{number}"), form.value(f"stage_{number}_hours")) for number in STAGES]
    return [{"name": name, "hours": _plain(hours)} for name, hours in rows if name and hours is not None]


def _plain(hours: Decimal) -> int | float:
    return int(hours) if hours == hours.to_integral_value() else float(hours)


def _tend(form: OperationForm) -> list[dict[str, Any]]:
    return [
        {
            "key": form.value(f"tend_{number}"),
            "at_minutes": form.value(f"tend_{number}_at") or 0,
            "within_minutes": form.value(f"tend_{number}_within") or 0,
            "minutes": form.value(f"tend_{number}_minutes"),
        }
        for number in TENDS
        if form.value(f"tend_{number}")
    ]


def fill(form: OperationForm, operation: Operation) -> None:
    """Put what was typed into the row. A change of its lists alone makes a new version too."""
    for name in (*PLAIN, *TIMES):
        setattr(operation, name, form.value(name))
    for name in CHOSEN:
        setattr(operation, name, int(form.value(name)) if form.value(name) else None)
    operation.kind = kind_of(form.kind.data or "")
    operation.split, operation.dusty = YES_NO[form.split.data], YES_NO[form.dusty.data]
    operation.stages, operation.tend = own_stages(form) or None, _tend(form) or None
    operation.after = [
        Link(waits_for_id=row.operation_id, stage=row.stage, lag_minutes=row.lag, within_minutes=row.within)
        for row in _each_once(waits(form))
    ]
    operation.holds = [
        Hold(
            equipment_id=int(form.value(f"hold_{number}")),
            count=form.value(f"hold_{number}_count") or 1,
            until=form.value(f"hold_{number}_until") or None,
        )
        for number in HOLDS
        if form.value(f"hold_{number}")
    ]
    if operation.version is not None:
        flag_modified(operation, "note")


def _each_once(rows: Iterable[Waiting]) -> list[Waiting]:
    return list({(row.operation_id, row.stage): row for row in rows}.values())


def kind_of(typed: str) -> str:
    """Return a kind as the table of kinds writes it: small letters, single spaces."""
    return " ".join(typed.lower().split())
