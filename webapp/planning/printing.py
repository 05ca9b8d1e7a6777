"""The plan of a shop document as the mapping that is printed as JSON, times in the shop's zone."""

from collections.abc import Iterable
from datetime import tzinfo
from typing import Any

from webapp.planning import iso
from webapp.planning.instants import moment
from webapp.planning.network import Document
from webapp.planning.planned import Because, Flag, Plan, Planned, PlannedBuild, Span


def write(document: Document, plan: Plan) -> dict[str, Any]:
    """Return a plan in the output format.

    Takes:   the document it was made of; the plan.
    Returns: a mapping of texts, numbers, lists and mappings, ready for `json.dumps`.
    Raises:  IsoError for a zone that does not exist.
    Source:  the shop document, "Output".

    >>> from webapp.planning.network import Shop
    >>> write(Document(0, Shop("Europe/Oslo", ())), Plan(0, ()))
    {'benchtide': 1, 'now': '1970-01-01T01:00:00+01:00', 'builds': [], 'flags': []}
    """
    zone = iso.zone(document.shop.time_zone)
    return {
        "benchtide": 1,
        "now": _at(plan.now, zone),
        "builds": [_build(build, zone) for build in plan.builds],
        "flags": [_flag(flag, zone) for flag in plan.flags],
    }


def _at(instant: int | None, zone: tzinfo) -> str | None:
    return None if instant is None else moment(instant, zone).isoformat()


def _build(build: PlannedBuild, zone: tzinfo) -> dict[str, Any]:
    return {
        "name": build.name,
        "finish": _at(build.finish, zone),
        "cured": _at(build.cured, zone),
        "minutes_late": build.minutes_late,
        "flags": [_flag(flag, zone) for flag in build.flags],
        "operations": [_operation(operation, zone) for operation in build.operations],
    }


def _operation(planned: Planned, zone: tzinfo) -> dict[str, Any]:
    return {
        "key": planned.key,
        "start": _at(planned.start, zone),
        "finish": _at(planned.finish, zone),
        "spans": _spans(planned.spans, zone),
        "people": list(planned.people),
        "stages": {name: _at(end, zone) for name, end in planned.stages.items()},
        "latest_start": _at(planned.latest_start, zone),
        **({} if planned.latest_spans is None else {"latest_spans": _spans(planned.latest_spans, zone)}),
        "because": None if planned.because is None else _because(planned.because, zone),
        "flags": [_flag(flag, zone) for flag in planned.flags],
    }


def _spans(spans: Iterable[Span], zone: tzinfo) -> list[list[str | None]]:
    return [[_at(start, zone), _at(end, zone)] for start, end in spans]


def _because(because: Because, zone: tzinfo) -> dict[str, Any]:
    told = {
        "why": because.why.value,
        "build": because.build,
        "operation": because.operation,
        "stage": because.stage,
        "until": _at(because.until, zone),
    }
    return {key: value for key, value in told.items() if value is not None}


def _flag(flag: Flag, zone: tzinfo) -> dict[str, Any]:
    return {"flag": flag.flag.value, "says": flag.says, "at": _at(flag.at, zone)}
