"""A check of schedules that shares nothing with the placing, and small projects to try it on."""

from collections.abc import Iterable, Sequence

from hypothesis import strategies

from webapp.planning.search import Link, Project

Arc = tuple[int, int, int]  # earlier, later, wait


def violations(
    durations: Sequence[int],
    demands: Sequence[Sequence[int]],
    capacities: Sequence[int],
    arcs: Iterable[Arc],
    starts: Sequence[int],
) -> list[str]:
    """Return what is wrong with a schedule: precedence link by link, resources unit of time by unit of time."""
    wrong = [f"{number} starts at {start}" for number, start in enumerate(starts) if start < 0]
    if len(starts) != len(durations):
        return [f"{len(starts)} starts for {len(durations)} activities"]
    for earlier, later, wait in arcs:
        if starts[later] < starts[earlier] + durations[earlier] + wait:
            wrong.append(f"{later} starts at {starts[later]}, before {earlier} and a wait of {wait}")
    for unit in range(max((s + d for s, d in zip(starts, durations, strict=True)), default=0)):
        running = [n for n, start in enumerate(starts) if start <= unit < start + durations[n]]
        for resource, capacity in enumerate(capacities):
            used = sum(demands[n][resource] for n in running)
            if used > capacity:
                wrong.append(f"{used} of {capacity} of resource {resource} at {unit}")
    return wrong


def violations_of(project: Project, starts: Sequence[int]) -> list[str]:
    """The same of a project of ours."""
    arcs = [(link.earlier, link.later, link.wait) for link in project.links]
    return violations(project.durations, project.demands, project.capacities, arcs, starts)


@strategies.composite
def projects(draw: strategies.DrawFn, most: int = 8) -> Project:
    """Small projects; numbers are not in order of precedence, some activities take no time or hold nothing."""
    count = draw(strategies.integers(1, most))
    capacities = tuple(draw(strategies.lists(strategies.integers(1, 5), min_size=0, max_size=3)))
    durations = tuple(draw(strategies.integers(0, 5)) for _ in range(count))
    demands = tuple(tuple(draw(strategies.integers(0, capacity)) for capacity in capacities) for _ in range(count))
    line = draw(strategies.permutations(range(count)))
    pairs = [(one, other) for place, one in enumerate(line) for other in line[place + 1 :]]
    chosen = draw(strategies.lists(strategies.sampled_from(pairs), unique=True, max_size=count)) if pairs else []
    return Project(
        durations, demands, capacities, tuple(Link(a, b, draw(strategies.integers(0, 4))) for a, b in chosen)
    )
