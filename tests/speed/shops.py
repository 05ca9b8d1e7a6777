"""Our planner against a general solver, on shops with several builds and on small ones that are solved to the end.

python tests/speed/shops.py --builds 6 --ours 5 --theirs 60     one of the stored shops (6, 8, 10, 20; --seed 1 or 2)
python tests/speed/shops.py --small 200                         small ones, ours by so many --schedules

The cost of a plan is the pair of weighted minutes late and of the sum of all finishes in minutes from `now`, compared
from the left. The solver is told our first schedule. Both plans are printed and examined by the checker of the tests.
Core seconds are told beside seconds: on a machine that others use, 60 seconds are not 60 seconds. The last line of the
first form is `ours LATE/FINISHES, theirs LATE/FINISHES`. The solver is the extra `solver`, which `make bench` installs;
without it the small ones are held against what it once proved.
"""

import argparse
import csv
import json
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.planning.checker import violations
from tests.planning.checker_sketch import sketched
from tests.speed import shop_instances
from webapp.planning.document import read
from webapp.planning.graph import Graph
from webapp.planning.hours import Hours
from webapp.planning.improve import improve
from webapp.planning.laid import Laid
from webapp.planning.orders import latest_finishes
from webapp.planning.place import lay_out

IS_THERE = find_spec("ortools") is not None
if IS_THERE:
    from tests.speed.solver import Answer, By, solve

Json = dict[str, Any]
OPTIMA = shop_instances.FOLDER / "small.csv"  # what the solver proved best of the small ones
LONGEST = 60  # seconds for a small one
TRIED = 10  # schedules, by which ours is timed
SHORT = ["--builds", "6", "--ours", "2", "--theirs", "5"]  # what `make bench` runs


@dataclass(frozen=True, order=True)
class Pair:
    """What a plan costs: weighted minutes late, then finishes counted from now."""

    late: float
    finishes: int

    def __str__(self) -> str:
        return f"{self.late:g}/{self.finishes}"


class Case:
    """A shop document, and what is asked about plans of it."""

    def __init__(self, source: Json) -> None:
        self.source, self.document = source, read(source)
        self.graph, self.hours = Graph(self.document), Hours(self.document.shop)

    def first(self) -> dict[int, Laid]:
        """Our first schedule: by how urgent each operation is, and nothing tried."""
        urgency = latest_finishes(self.graph, self.hours)
        order = self.graph.order(sorted(range(len(urgency)), key=urgency.__getitem__))
        return lay_out(self.graph, self.hours, list(order))

    def ours(self, seconds: float) -> tuple[dict[int, Laid], int]:
        """What our planner finds in about so many seconds, at the pace of its first schedules, and in how many."""
        self.by_schedules(TRIED)
        begin = time.perf_counter()
        self.by_schedules(TRIED)
        schedules = max(2, int(seconds / (time.perf_counter() - begin) * TRIED))
        return self.by_schedules(schedules), schedules

    def by_schedules(self, schedules: int) -> dict[int, Laid]:
        """What our planner finds in so many schedules."""
        return improve(self.graph, self.hours, schedules).laid

    def judged(self, starts: Mapping[str, int]) -> Pair:
        """What a plan costs; ValueError where the checker does not take it."""
        texts: dict[str, str | None] = {
            path: datetime.fromtimestamp(at * 60, UTC).isoformat() for path, at in starts.items()
        }
        plan = sketched(self.source, texts)
        wrong = violations(self.source, plan)
        if wrong:
            raise ValueError("\n".join(wrong))
        late = sum(
            build.get("weight", 1) * got["minutes_late"]
            for build, got in zip(self.source["builds"], plan["builds"], strict=True)
        )
        ends = [datetime.fromisoformat(got["finish"]).timestamp() // 60 for got in plan["builds"]]
        return Pair(late, int(sum(ends)) - len(ends) * self.document.now)

    def judged_laid(self, laid: Mapping[int, Laid]) -> Pair:
        return self.judged(dict(self._starts(laid)))

    def _starts(self, laid: Mapping[int, Laid]) -> Iterator[tuple[str, int]]:
        for node in self.graph.nodes:
            one, name = laid[node.number], self.graph.builds[node.build].name
            assert one.slot is not None
            yield f"{name}.{node.key}", one.slot.start
            yield from ((f"{name}.{piece.key}", piece.slot.start) for piece in one.pieces)


def large(builds: int, seed: int, ours: float, theirs: float, by: str, workers: int) -> None:
    """One stored shop, both sides."""
    case = Case(json.loads(shop_instances.path(builds, seed).read_text(encoding="utf-8")))
    operations, work = len(case.graph.nodes), sum(node.left for node in case.graph.nodes)
    first = case.first()
    print(f"{builds} builds, seed {seed}: {operations} operations, {work / 60:.0f} h of work")
    print(f"first schedule {case.judged_laid(first)}")
    with Clock() as clock:
        found, schedules = case.ours(ours)
    our = case.judged_laid(found)
    print(f"ours {our} after {clock}, {schedules} schedules")
    if not IS_THERE:
        print("OR-Tools is not installed: `make bench` does that, or pip install '.[solver]'")
        return
    their = None
    for way in By if by == "both" else [By(by)]:
        with Clock() as clock:
            answer = solve(case.graph, case.hours, theirs, hint=first, by=way, workers=workers)
        got = None if answer.starts is None else case.judged(answer.starts)
        print(f"theirs by {way}: {got or 'nothing'} ({answer.status}) after {clock}, the model built")
        their = min((one for one in (their, got) if one is not None), default=None)
    print(f"ours {our}, theirs {their or 'nothing'}")


class Clock:
    """Seconds, and core seconds of this process."""

    def __enter__(self) -> "Clock":
        self.begin, self.core = time.perf_counter(), time.process_time()
        return self

    def __exit__(self, *_: object) -> None:
        self.seconds, self.core = time.perf_counter() - self.begin, time.process_time() - self.core

    def __str__(self) -> str:
        return f"{self.seconds:.1f} s ({self.core:.1f} core seconds)"


@dataclass
class Tally:
    """What came of the small shops."""

    count: int = 0
    solved: int = 0
    at_once: int = 0
    optimal: int = 0
    equal: int = 0
    worst: float = 0.0

    def add(self, first: Pair, our: Pair, their: Pair, is_proved: bool) -> None:
        self.count += 1
        self.solved += is_proved
        self.at_once += first <= their
        self.optimal += our <= their
        self.equal += our.late <= their.late
        if our.late == their.late:
            self.worst = max(self.worst, our.finishes / their.finishes - 1)

    def __str__(self) -> str:
        return (
            f"{self.count} small shops, {self.solved} of them solved to the end; the first schedule is optimal in "
            f"{self.at_once}\nours optimal in {self.optimal / self.count:.1%}, equal in lateness in "
            f"{self.equal / self.count:.1%}, where equal at most {self.worst:.2%} more in finishes"
        )


def small(count: int, schedules: int, write: bool) -> None:
    """Small shops: the optimum, and what ours makes of them in so many schedules."""
    tally, rows = Tally(), []
    for seed in range(1, count + 1):
        source = shop_instances.small(seed)
        case = Case(source)
        their, is_proved = proved(case) if IS_THERE else (kept(seed, source), True)
        first, our = case.judged_laid(case.first()), case.judged_laid(case.by_schedules(schedules))
        if our < their and is_proved:
            raise ValueError(f"seed {seed}: ours {our} is better than what was proved best, {their}")
        if our > their or not is_proved:
            print(f"seed {seed}: ours {our}, theirs {their}{'' if is_proved else ', not proved'}")
        tally.add(first, our, their, is_proved)
        rows.append(f"{seed},{mark(source)},{their.late:g},{their.finishes}\n" if is_proved else "")
    if write and IS_THERE:
        OPTIMA.write_text("seed,mark,late,finishes\n" + "".join(rows), encoding="utf-8")
    print(f"{tally}\nby {schedules} schedules, against {'the solver' if IS_THERE else 'what the solver once proved'}")


def proved(case: Case) -> tuple[Pair, bool]:
    """The best plan of a small shop by the solver, and whether there is proof."""
    answer: Answer = solve(case.graph, case.hours, LONGEST, hint=case.first())
    assert answer.starts is not None
    return case.judged(answer.starts), answer.is_proved


def mark(source: Json) -> str:
    """By which a document is known again."""
    return sha256(shop_instances.text(source).encode()).hexdigest()[:8]


def kept(seed: int, source: Json) -> Pair:
    """What the solver once proved best of a small shop; ValueError where it was another shop."""
    with OPTIMA.open(encoding="utf-8", newline="") as file:
        row = next(row for row in csv.DictReader(file) if row["seed"] == str(seed))
    if row["mark"] != mark(source):
        raise ValueError(f"small shop {seed} is not what it was: python tests/speed/shops.py --small 200 --write")
    return Pair(float(row["late"]), int(row["finishes"]))


def main(arguments: list[str]) -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--builds", type=int, choices=shop_instances.SIZES, default=6)
    parser.add_argument("--seed", type=int, choices=shop_instances.SEEDS, default=1)
    parser.add_argument("--ours", type=float, default=5, help="seconds")
    parser.add_argument("--theirs", type=float, default=60, help="seconds")
    parser.add_argument("--by", choices=["closings", "gaps", "both"], default="closings", help="see solver.py")
    parser.add_argument("--workers", type=int, default=2, help="of the solver")
    parser.add_argument("--small", type=int, metavar="COUNT", help="so many small shops instead")
    parser.add_argument("--schedules", type=int, default=1000, help="ours on each small shop")
    parser.add_argument("--write", action="store_true", help="keep what was proved best of the small ones")
    found = parser.parse_args(arguments)
    if found.small is None:
        large(found.builds, found.seed, found.ours, found.theirs, found.by, found.workers)
    else:
        small(found.small, found.schedules, found.write)


if __name__ == "__main__":
    main(sys.argv[1:] or SHORT)
