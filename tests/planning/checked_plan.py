"""The door to the planner for tests: every plan that a test makes goes through the checker."""

import json
from collections.abc import Collection

from tests.planning.checker import violations
from tests.planning.checking.times import Json
from webapp.planning.document import answer


def plan_of(document: Json, schedules: int = 1) -> Json:
    """The plan of a document as it is printed, unchecked; of one order, that of the document, unless more is asked."""
    status, out, err = answer(json.dumps(document), schedules)
    assert (status, err) == (0, "")
    plan: Json = json.loads(out)
    return plan


def checked_plan(document: Json, without: Collection[str] = (), schedules: int = 1) -> Json:
    """The plan of a document as it is printed, which keeps all rules but some groups of `checker.RULES`."""
    plan = plan_of(document, schedules)
    found = violations(document, plan, without)
    assert not found, "\n".join(found)
    return plan
