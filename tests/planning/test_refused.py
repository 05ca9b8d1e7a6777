"""Documents with a fault, 20 of each kind, and with anything wrong anywhere: refused with the path, never a traceback.

`BENCHTIDE_MUTATED=2000` looks at so many of the latter instead of a few.
"""

import json
import os
import re
from collections.abc import Callable
from random import Random

import pytest

from tests.planning import faulty, faulty_figures
from tests.planning.checker import violations
from tests.planning.faulty import Fault
from tests.planning.mutate import mutated
from webapp.planning.document import answer

RULES: list[Callable[[Random], Fault]] = [
    faulty.unknown_key,
    faulty.missing_key,
    faulty.wrong_type,
    faulty.dangling,
    faulty.circle,
    faulty.twice,
    faulty_figures.crossed_hours,
    faulty_figures.overlapping_hours,
    faulty_figures.never_open,
    faulty_figures.wrong_time,
    faulty_figures.wrong_number,
    faulty_figures.wrong_windows,
    faulty_figures.wrong_course,
]
EACH = 20
MUTATED = int(os.environ.get("BENCHTIDE_MUTATED", "300"))
LINE = re.compile(r"^(document|[\w\[].*?): .+")


def test_there_are_two_hundred_at_least() -> None:
    assert len(RULES) * EACH >= 200


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_twenty_faults_of_a_kind_are_each_told_at_their_path(rule: Callable[[Random], Fault]) -> None:
    texts = set()
    for seed in range(EACH):
        source, path = rule(Random(f"{rule.__name__} {seed}"))
        texts.add(json.dumps(source))
        status, out, err = answer(json.dumps(source), 1)
        assert (status, out) == (2, ""), (seed, path)
        assert any(line.startswith(f"{path}: ") for line in err.splitlines()), f"{seed}: {path} not in {err}"
    assert len(texts) == EACH


def test_whatever_is_wrong_there_is_a_plan_or_a_path() -> None:
    kinds = set()
    for seed in range(MUTATED):
        source = mutated(seed)
        status, out, err = answer(json.dumps(source), 1)
        kinds.add(status)
        if status == 2:
            assert out == "", seed
            assert all(LINE.match(line) for line in err.splitlines()), (seed, err)
        else:
            assert violations({"builds": [], **source}, json.loads(out)) == [], seed
            assert answer(json.dumps(source), 1, latest=True, as_table=True)[0] == 0, seed
    assert kinds == {0, 2}
