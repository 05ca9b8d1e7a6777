"""How long things take to dry in the invented shop: the figures of its glues and finishes, as they are seeded."""

from collections.abc import Mapping
from typing import Any

from webapp.invented.script import Step
from webapp.trade.products.families import closed_minutes, family

SLOWER = 1.45  # a cold night makes a wait longer than its label says; nobody comes back to the minute


def hours_of(step: Step) -> dict[str, float]:
    """Return the stages of a step's wait and how many hours each takes."""
    stages = _figures(step.product).get("stages", ())
    return {stage["name"]: float(stage["hours"]) for stage in stages} | dict(step.own)


def tend_of(product: str) -> list[tuple[str, int, int]]:
    """Return (key, minutes after the work, minutes within) of the short work inside a product's wait."""
    return [(one["key"], one["at_minutes"], one["within_minutes"]) for one in _figures(product).get("tend", ())]


def dry_after(product: str) -> float:
    """Return how many hours after one layer the next may go on."""
    windows = _figures(product).get("recoat", ())
    return float(windows[0]["from_hours"]) if windows else 0.0


def open_seconds(glue: str) -> dict[str, int]:
    """Return how long a glue stays open once it is spread, and how long after that clamps may still close the joint."""
    found = {"open_seconds": round(60 * _figures(glue)["open_minutes"])}
    closed = closed_minutes(glue, glue)
    return found if closed is None else found | {"closed_seconds": round(60 * closed)}


def _figures(product: str) -> Mapping[str, Any]:
    return family(product).figures if product else {}
