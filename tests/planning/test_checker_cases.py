"""The checker takes the plans that the cases of the shop document want, laid by hand."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.planning.checker import violations
from tests.planning.checker_sketch import sketched
from tests.planning.test_cases import said, same

CASES = Path(__file__).parent.parent / "reference" / "cases"

# Where work starts of which the cases say nothing, and not right away. In the wall clock of the shop.
LATER: dict[str, dict[str, str]] = {
    "14:00 lies in the closed span": {"Door.coat2": "2026-02-16T09:30"},
    "the wait belongs": {"Tray.oil": "2026-02-02T08:00"},
    "oil is wiped after 20 minutes": {"Stool.mill": "2026-02-02T09:00"},
    "two hands asked for": {"B.glue": "2026-02-02T14:20"},
    "another build fills": {"A.plane": "2026-02-02T12:30", "B.mill": "2026-02-02T08:30"},
    "glue before the long": {"A.plane": "2026-02-02T12:30", "B.mill": "2026-02-02T08:30"},
    "laid backwards": {"A.plane": "2026-02-03T08:30"},
    "the one that would be late": {"A.a": "2026-02-02T13:00"},
}


def cases() -> list[Any]:
    names = ["clamps", "windows", "people", "order", "hours", "clock"]
    found = [one for name in names for one in json.loads((CASES / f"{name}.json").read_text(encoding="utf-8"))]
    return [pytest.param(case, id=case["about"]) for case in found]


def laid(case: dict[str, Any]) -> dict[str, Any]:
    """The plan that a case wants."""
    more: dict[str, dict[str, Any]] = {"flags": {}, "people": {}, "spans": {}}
    starts: dict[str, str | None] = {}
    for name, build in case["expect"].items():
        for key, wanted in build.get("operations", {}).items():
            path = f"{name}.{key}"
            if "start" in wanted:
                starts[path] = wanted["start"]
            more["flags"][path] = wanted.get("flags", [])
            for what in ("people", "spans"):
                if what in wanted:
                    more[what][path] = wanted[what]
    later = next((value for key, value in LATER.items() if case["about"].startswith(key)), {})
    own = [f"{build['name']}.{one['key']}" for build in case["document"]["builds"] for one in build["operations"]]
    return sketched(case["document"], dict.fromkeys(own, case["document"]["now"]) | starts | later, **more)


@pytest.mark.parametrize("case", cases())
def test_the_plan_that_is_wanted_passes(case: dict[str, Any]) -> None:
    plan = laid(case)
    builds = {
        b["name"]: {**b, "operations": {one["key"]: said(one) for one in b["operations"]}} for b in plan["builds"]
    }
    for build in case["expect"].values():
        for wanted in build.get("operations", {}).values():
            wanted.pop("why", None)
            wanted.pop("latest_spans", None)
    assert same(case["expect"], builds), json.dumps(builds, indent=1)
    assert violations(case["document"], plan) == []
