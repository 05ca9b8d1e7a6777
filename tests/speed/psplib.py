"""How near the search comes to the best plans known of the public projects of PSPLIB, by the number of schedules.

python tests/speed/psplib.py PATH/j30.json --schedules 1000 --seeds 3 --out FILE

Every pass counts as a schedule, forward or pushed to either side. j30 and minlag are compared with the best known
length, j60 and j120 with the longest path, as published results are. FILE gets the starts of each activity, of the
last seed. Without a path, a few of each set where the samples lie beside the project.
"""

import argparse
import json
import os
import statistics
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.planning.search.checked import violations
from webapp.planning.search import Budget, Link, Placing, Project, evolve

# as in tests/conftest.py
SAMPLES = Path(os.environ.get("BENCHTIDE_SAMPLES") or Path(__file__).parents[3] / "shared")
FROM_BEST = ("j30", "minlag")
FEW = 24  # of each set, without a path


def project_of(instance: dict[str, Any]) -> Project:
    demands = tuple(tuple(row) for row in instance["req"])
    links = tuple(Link(*arc) for arc in arcs(instance))
    return Project(tuple(instance["dur"]), demands, tuple(instance["cap"]), links)


def arcs(instance: dict[str, Any]) -> Iterator[tuple[int, int, int]]:
    """Yield (earlier, later, wait) in either form of the files."""
    yield from (tuple(arc) for arc in instance.get("arcs", ()))
    for number, row in enumerate(instance.get("succ", ())):
        yield from ((number, other, 0) for other in row)


def counting() -> float:
    """Seconds of a plain loop to a million."""
    begin, total = time.process_time(), 0
    for number in range(1_000_000):
        total += number
    return time.process_time() - begin


@dataclass
class Run:
    """What came of one set, searched with one seed."""

    starts: dict[str, list[int]] = field(default_factory=dict)
    deviations: list[float] = field(default_factory=list)
    violations: int = 0
    at_best: int = 0
    passes: int = 0
    seconds: float = 0

    @property
    def deviation(self) -> float:
        return statistics.mean(self.deviations)


def run(name: str, instances: list[dict[str, Any]], schedules: int, seed: int) -> Run:
    done = Run()
    for instance in instances:
        budget = Budget(schedules)
        begin = time.process_time()
        placing = Placing(project_of(instance), budget)
        starts = list(placing.starts(evolve(placing, budget, seed)))
        done.seconds += time.process_time() - begin
        assert budget.spent <= schedules
        length = max(s + d for s, d in zip(starts, instance["dur"], strict=True))
        base = instance["best"] if name in FROM_BEST else instance["cp"]
        done.deviations.append(100 * (length - base) / base)
        done.at_best += length <= instance["best"]
        done.passes += budget.spent
        done.starts[instance["name"]] = starts
        done.violations += len(violations(instance["dur"], instance["req"], instance["cap"], arcs(instance), starts))
    return done


def one_pass(instances: list[dict[str, Any]]) -> tuple[float, float]:
    """Milliseconds of one pass by itself, and how many of it fit into the counting loop right beside it."""
    passes, seconds, loops = 0, 0.0, []
    for instance in instances[:: max(len(instances) // 40, 1)]:
        placing = Placing(project_of(instance), Budget(20))
        found = placing.place(list(placing.project.topological), 0)
        begin = time.process_time()
        for _ in range(19):
            found = placing.shift(found)
        seconds, passes = seconds + time.process_time() - begin, passes + 19
        loops.append(counting())
    return 1000 * seconds / passes, statistics.mean(loops) * passes / seconds


def report(name: str, instances: list[dict[str, Any]], schedules: int, seeds: int) -> Run:
    runs = []
    for seed in range(1, seeds + 1):
        done = run(name, instances, schedules, seed)
        runs.append(done)
        share = 100 * done.at_best / len(instances)
        each = 1000 * done.seconds / max(done.passes, 1)
        print(
            f"{name}, seed {seed}: {done.deviation:.3f} %, at best known {share:.1f} %, {done.violations} violations, "
            f"{done.passes} passes, {each:.3f} ms each with all of the search",
            flush=True,
        )
    alone, fits = one_pass(instances)
    print(f"{name}: one pass by itself {alone:.3f} ms; counting to a million takes as long as {fits:.0f} of them")
    mean = statistics.mean(done.deviation for done in runs)
    print(f"{name}: {mean:.2f} % over {len(instances)} instances at {schedules} schedules", flush=True)
    return runs[-1]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("path", type=Path, nargs="?")
    parser.add_argument("--schedules", type=int, default=1000)
    parser.add_argument("--seeds", type=int, default=1)
    parser.add_argument("--every", type=int, default=1, help="only every so many of the instances")
    parser.add_argument("--out", type=Path)
    asked = parser.parse_args()
    if asked.path is None:
        return a_few(asked.schedules)
    file = json.loads(asked.path.read_text(encoding="utf-8"))
    last = report(file["set"], file["instances"][:: asked.every], asked.schedules, asked.seeds)
    if asked.out:
        asked.out.write_text(json.dumps(last.starts), encoding="utf-8")
    return int(last.violations > 0)


def a_few(schedules: int) -> int:
    folder = SAMPLES / "reference" / "psplib"
    if not folder.is_dir():
        print(f"psplib: left out, there is nothing in {folder}; python tests/speed/psplib.py PATH/j30.json")
        return 0
    for name in ("j30", "j60", "j120"):
        file = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))
        report(name, file["instances"][:: len(file["instances"]) // FEW], schedules, 1)
    return 0


if __name__ == "__main__":
    sys.exit(main())
