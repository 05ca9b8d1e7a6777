"""The cases of the shop document, planned in process."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from tests.planning.checked_plan import checked_plan
from webapp.planning.document import SCHEDULES, answer

CASES = Path(__file__).parent.parent / "reference" / "cases"


def cases(name: str) -> list[Any]:
    found = json.loads((CASES / f"{name}.json").read_text(encoding="utf-8"))
    return [pytest.param(case, id=case["about"]) for case in found]


def same(want: Any, got: Any) -> bool:
    """Whether what was got says all that is wanted; two times are the same when they are one instant."""
    if isinstance(want, str) and isinstance(got, str) and want[:2] == "20":
        return datetime.fromisoformat(want) == datetime.fromisoformat(got)
    if isinstance(want, list) and isinstance(got, list):
        return len(want) == len(got) and all(map(same, want, got))
    if isinstance(want, dict) and isinstance(got, dict):
        return all(key in got and same(value, got[key]) for key, value in want.items())
    return bool(want == got)


def said(operation: dict[str, Any]) -> dict[str, Any]:
    """An operation of a plan with its flags by name and its reason by word."""
    why = (operation["because"] or {}).get("why")
    return {**operation, "flags": sorted(flag["flag"] for flag in operation["flags"]), "why": why}


LATEST = "laid backwards from the due date"
ORDER = [case for case in cases("order") if case.id != LATEST]


@pytest.mark.parametrize(
    "case", [*cases("hours"), *cases("clock"), *cases("clamps"), *cases("people"), *cases("windows"), *ORDER]
)
def test_the_plan_is_the_one_expected(case: dict[str, Any]) -> None:
    plan = checked_plan(case["document"], schedules=SCHEDULES)
    builds = {
        build["name"]: {**build, "operations": {one["key"]: said(one) for one in build["operations"]}}
        for build in plan["builds"]
    }
    assert same(case["expect"], builds), json.dumps(builds, indent=1)


@pytest.mark.parametrize("case", cases("best"))
def test_the_plan_is_no_worse_than_the_best_of_all_orders(case: dict[str, Any]) -> None:
    plan = checked_plan(case["document"], schedules=SCHEDULES)
    weights = [build.get("weight", 1) for build in case["document"]["builds"]]
    late = sum(weight * build["minutes_late"] for weight, build in zip(weights, plan["builds"], strict=True))
    finishes = sum(round(datetime.fromisoformat(build["finish"]).timestamp()) // 60 for build in plan["builds"])
    assert (late, finishes) <= (case["best"]["late"], case["best"]["finishes"])


@pytest.mark.parametrize("case", cases("refused"))
def test_what_is_wrong_is_refused_at_its_path(case: dict[str, Any]) -> None:
    status, out, err = answer(json.dumps(case["document"]))
    assert (status, out) == (2, "")
    assert any(line.startswith(f"{case['refused']}: ") for line in err.splitlines()), err
