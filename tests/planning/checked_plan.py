"""The door to the planner for tests: every plan that a test makes goes through the checker."""

import json
from collections.abc import Collection

from tests.planning.checker import violations
from tests.planning.checking.times import Json
from webapp.planning.document import answer


def plan_of(document: Json) -> Json:
    """The plan of a document as it is printed, unchecked."""
    status, out, err = answer(json.dumps(document))
    assert (status, err) == (0, "")
    plan: Json = json.loads(out)
    return plan


def checked_plan(document: Json, without: Collection[str] = ()) -> Json:
    """The plan of a document as it is printed, which keeps all rules but some groups of `checker.RULES`."""
    plan = plan_of(document)
    found = violations(document, plan, without)
    assert not found, "\n".join(found)
    return plan
