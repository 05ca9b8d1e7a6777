"""How long one plan takes, beside a plain counting loop of the same run: on a shared machine bare milliseconds lie.

python tests/speed/plan.py
"""

import json
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from webapp.planning.plan import plan
from webapp.planning.reading import to_document

BUILDS, OPERATIONS, RUNS = 10, 30, 7
KINDS = ("rough mill", "rest", "final mill", "glue-up", "level", "joinery", "shape", "sand", "coat", "fit hardware")


def document() -> dict[str, object]:
    hours = [{"days": ["mon", "tue", "wed", "thu", "fri"], "open": "08:00", "close": "17:00"}]
    stages = [{"name": "out of clamps", "hours": 1}, {"name": "ready to plane", "hours": 168}]
    product = {"name": "glue", "stages": stages}
    builds = []
    for number in range(BUILDS):
        operations: list[dict[str, object]] = []
        for index in range(OPERATIONS):
            kind = KINDS[index % len(KINDS)]
            after = [{"operation": f"o{index - 1}"}] if index else []
            if kind == "level":
                after = [{"operation": f"o{index - 1}", "stage": "ready to plane"}]
            operation = {"key": f"o{index}", "kind": kind, "minutes": 20 + 7 * (index % 9), "after": after}
            operations.append(operation | ({"product": "glue"} if kind == "glue-up" else {}))
        builds.append({"name": f"build {number}", "due": "2026-06-01", "operations": operations})
    shop = {"time_zone": "Europe/Oslo", "hours": hours, "makers": 2, "climate": {"day": 20, "night": 16}}
    now = "2026-02-02T08:00:00+01:00"
    return {"benchtide": 1, "now": now, "shop": shop, "products": [product], "builds": builds}


def seconds(work: object) -> float:
    assert callable(work)
    found = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        work()
        found.append(time.perf_counter() - begin)
    return statistics.median(found)


def counting() -> None:
    total = 0
    for number in range(1_000_000):
        total += number


if __name__ == "__main__":
    read = to_document(json.loads(json.dumps(document())))
    loop, one = seconds(counting), seconds(lambda: plan(read))
    size = BUILDS * OPERATIONS
    print(f"plan: {size} operations in {one * 1000:.1f} ms, {one / loop:.2f} times a loop to a million")
