"""The other side: the shop as a model for OR-Tools CP-SAT, and what that solver finds in so many seconds.

The model, in minutes since `now` over the greatest common divisor of all times (15 in the stored shops), so that
nothing is rounded:

- Each operation has one start over elapsed time, from whose domain closed hours are cut.
- Work that may not pause: only starts that fit before closing; its size is fixed.
- Work that may pause at closing: one Boolean for each closing that it may be the first to cross (`CLOSINGS`), or one
  for each sum of closed hours that it may come to contain (`GAPS`, far fewer); the size is work plus closed hours.
- One maker: no overlap over elapsed time. A wait is a difference between an end and a start.
- Clamps and other equipment: cumulative over [start, given back), given back at an open minute after the stage; no
  overlap where there is only one. Drying places: the same over [start, dust free).
- A coat over another: one Boolean for each window, with the work that it asks for before the coat as a further interval
  of the maker; all of it lies in one opening and inside the window.
- Dust: each stretch of dusty work, until it has settled, does not overlap a wet coat of its room.
- Objective: weighted minutes late, times more than all finishes could ever sum to, plus the sum of finishes: exactly
  the pair, compared from the left.
- Hint: every variable as in the plan it is told. Nothing is to end later than half as long again, and a week.

What the model leaves out is refused: several makers, temperature, pins, work in hand, tending, must-follow.
Found starts are made a plan and examined by the checker of the tests, which shares no code with this.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ortools.sat.python import cp_model

from tests.speed.solver_facts import Choice, Facts
from webapp.planning.cost import finish_of
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.instants import WEEK
from webapp.planning.laid import Laid, layer_below


class By(StrEnum):
    """How work that pauses at closing is written down."""

    CLOSINGS = "closings"
    GAPS = "gaps"


@dataclass(frozen=True)
class Answer:
    """What the solver found: starts by path "Build.key", inserted work too; None where it found nothing in time."""

    starts: dict[str, int] | None
    is_proved: bool
    status: str


def solve(
    graph: Graph, hours: Hours, seconds: float, *, hint: Mapping[int, Laid], by: By = By.CLOSINGS, workers: int = 2
) -> Answer:
    """What the solver finds in so many seconds, told a plan to begin with."""
    model = Model(graph, hours, hint, by)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = 1
    status = solver.solve(model.model)
    is_found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Answer(
        starts=model.starts(solver) if is_found else None,
        is_proved=status == cp_model.OPTIMAL,
        status=solver.status_name(status).lower(),
    )


class Model:
    """All operations of a graph, none of them begun."""

    def __init__(self, graph: Graph, hours: Hours, hint: Mapping[int, Laid], by: By) -> None:
        now = graph.document.now
        ends = [laid.clears for laid in hint.values() if laid.clears is not None]
        self.facts = Facts(graph, hours, now + (max(ends) - now) * 3 // 2 + WEEK)
        self.graph, self.hours, self.hint, self.by = graph, hours, hint, by
        self.model = cp_model.CpModel()
        self.start: dict[int, Any] = {}
        self.end: dict[int, Any] = {}
        self.begin: dict[int, Any] = {}  # of the work put in before it, where there is any
        self.chosen: dict[int, list[Any]] = {}
        self.worked: list[Any] = []
        self.dusty: dict[str | None, list[tuple[int, Any]]] = {}
        self.held: dict[str, list[tuple[Any, int]]] = {}
        self.wet: dict[str | None, list[tuple[int, Any]]] = {}
        for node in graph.nodes:
            self._work(node)
        for node in graph.nodes:
            self._follow(node)
            self._hold(node)
        self._share()
        self._aim()

    def starts(self, solver: Any) -> dict[str, int]:
        """The instants of all starts by path, inserted work included."""
        found = {}
        for node in self.graph.nodes:
            name = self.graph.builds[node.build].name
            at = solver.value(self.start[node.number])
            found[f"{name}.{node.key}"] = self.facts.at(at)
            for choice, literal in self._windows(node):
                before = at - choice.lead
                for key, length, _ in choice.pieces if solver.value(literal) else ():
                    found[f"{name}.{key}"] = self.facts.at(before)
                    before += length
        return found

    def _var(self, last: int, name: str, hint: int) -> Any:
        made = self.model.new_int_var(0, last, name)
        self.model.add_hint(made, hint)
        return made

    def _within(self, spans: Sequence[tuple[int, int]], name: str, hint: int) -> Any:
        made = self.model.new_int_var_from_domain(_domain(spans), name)
        self.model.add_hint(made, hint)
        return made

    def _bool(self, name: str, hint: bool) -> Any:
        made = self.model.new_bool_var(name)
        self.model.add_hint(made, hint)
        return made

    # hands-on work

    def _work(self, node: Node) -> None:
        number, laid, runs = node.number, self.hint[node.number], list(self.facts.runs(node))
        told = self.facts.told(laid.start)
        start = self.start[number] = self._within([(low, high) for low, high, _ in runs], f"start {number}", told)
        end = self.end[number] = self._var(self.facts.horizon, f"end {number}", self.facts.told(laid.end))
        length = self._length(node, runs)
        self.worked.append(self.model.new_interval_var(start, length, end, f"work {number}"))
        if node.needs.is_dusty:
            settle = node.needs.settle // self.facts.unit
            dust = self.model.new_interval_var(start, length + settle, end + settle, f"dust {number}")
            self.dusty.setdefault(node.needs.room, []).append((number, dust))
        self._layer(node)

    def _length(self, node: Node, runs: Sequence[tuple[int, int, int]]) -> Any:
        """How long work takes with the closed hours in it."""
        size, gaps = node.left // self.facts.unit, sorted({gap for _, _, gap in runs})
        if len(gaps) == 1:
            return size + gaps[0]
        number, laid = node.number, self.hint[node.number]
        told = self.facts.told(laid.start)
        lengths = [(size + gap, size + gap) for gap in gaps]
        length = self._within(lengths, f"length {number}", self.facts.told(laid.end) - told)
        groups: dict[tuple[int, ...], list[tuple[int, int]]] = {}
        for low, high, gap in runs:
            key = (gap,) if self.by is By.GAPS or gap == 0 else (gap, low)
            groups.setdefault(key, []).append((low, high))
        literals = []
        for key, spans in groups.items():
            literal = self._bool(f"crosses {number} {key}", any(low <= told <= high for low, high in spans))
            self.model.add_linear_expression_in_domain(self.start[number], _domain(spans)).only_enforce_if(literal)
            self.model.add(length == size + key[0]).only_enforce_if(literal)
            literals.append(literal)
        self.model.add_exactly_one(literals)
        return length

    def _windows(self, node: Node) -> Iterator[tuple[Choice, Any]]:
        return zip(self.facts.choices[node.number], self.chosen[node.number], strict=True)

    def _layer(self, node: Node) -> None:
        """The windows of a layer, and the work before it in each of them."""
        number, choices = node.number, self.facts.choices[node.number]
        self.chosen[number] = [
            self._bool(f"window {number} {place}", self._is_told(node, choice)) for place, choice in enumerate(choices)
        ]
        self.model.add_exactly_one(self.chosen[number])
        for choice, literal in self._windows(node):
            if choice.lead:
                self._before(node, choice, literal)
        leads = [choice.lead * literal for choice, literal in self._windows(node) if choice.lead]
        self.begin[number] = self.start[number] - sum(leads) if leads else self.start[number]

    def _is_told(self, node: Node, choice: Choice) -> bool:
        """Whether the hint has the layer in this window."""
        window, link = self.hint[node.number].window, layer_below(node, self.graph)
        if window is None or link is None:
            return True
        return self.facts.told(window.begin) - self.facts.told(self.hint[link.to].began) == choice.begin

    def _before(self, node: Node, choice: Choice, literal: Any) -> None:
        number, start, size = node.number, self.start[node.number], node.left // self.facts.unit
        fits = [(a + choice.lead, b - size) for a, b in self.facts.open if b - size >= a + choice.lead]
        self.model.add_linear_expression_in_domain(start, _domain(fits)).only_enforce_if(literal)
        before = self.model.new_optional_fixed_size_interval_var(
            start - choice.lead, choice.worked, literal, f"before {number}"
        )
        self.worked.append(before)
        at = -choice.lead
        for key, length, dusts in choice.pieces:
            if dusts:
                hangs = length + node.needs.settle // self.facts.unit
                dust = self.model.new_optional_fixed_size_interval_var(start + at, hangs, literal, f"dust {key}")
                self.dusty.setdefault(node.needs.room, []).append((number, dust))
            at += length

    # what comes after what, and what is held

    def _follow(self, node: Node) -> None:
        number, begin, below = node.number, self.begin[node.number], layer_below(node, self.graph)
        for first in self.facts.firsts(node):
            self.model.add(begin >= self.facts.told(first))
        for link in node.links:
            wait = self.facts.waits[link.to].get(link.stage or "", 0) + link.lag // self.facts.unit
            self.model.add(begin >= self.end[link.to] + wait)
        for choice, literal in self._windows(node) if below is not None else ():
            end = self.end[below.to]
            self.model.add(begin >= end + choice.begin).only_enforce_if(literal)
            if choice.end is not None:
                self.model.add(self.end[number] <= end + choice.end).only_enforce_if(literal)

    def _hold(self, node: Node) -> None:
        number, start, told = node.number, self.start[node.number], self.facts.told(self.hint[node.number].start)
        for taken in node.needs.equipment:
            until, back = self._back(node, taken.until)
            size = self._var(self.facts.horizon, f"size {number} {taken.name}", back - told)
            held = self.model.new_interval_var(start, size, until, f"hold {number} {taken.name}")
            self.held.setdefault(taken.name, []).append((held, taken.count))
        if node.needs.wet_until is not None:
            length = node.left // self.facts.unit + self.facts.waits[number][node.needs.wet_until]
            wet = self.model.new_fixed_size_interval_var(start, length, f"wet {number}")
            self.wet.setdefault(node.needs.room, []).append((number, wet))

    def _back(self, node: Node, stage: str | None) -> tuple[Any, int]:
        """When equipment is given back, and when in the hint: an open minute, the stage being reached."""
        end, told = self.end[node.number], self.facts.told(self.hint[node.number].end)
        if stage is None:
            return end, told
        wait = self.facts.waits[node.number][stage]
        told = self.facts.told(self.hours.anyone_in(self.facts.at(told + wait)))
        back = self._within([(a, b - 1) for a, b in self.facts.open], f"back {node.number}", told)
        self.model.add(back >= end + wait)
        return back, told

    def _share(self) -> None:
        shop = self.graph.document.shop
        self.model.add_no_overlap(self.worked)
        for thing in shop.equipment:
            self._limit(self.held.get(thing.name, []), thing.count)
        for room in shop.rooms:
            wet = self.wet.get(room.name, [])
            if room.drying_places is not None:
                self._limit([(span, 1) for _, span in wet], room.drying_places)
            pairs = [(d, w) for dusty, d in self.dusty.get(room.name, []) for coat, w in wet if coat != dusty]
            for dust, span in pairs:
                self.model.add_no_overlap([dust, span])

    def _limit(self, spans: Sequence[tuple[Any, int]], there: int) -> None:
        if there == 1:
            self.model.add_no_overlap([span for span, _ in spans])
        elif sum(count for _, count in spans) > there:
            self.model.add_cumulative([span for span, _ in spans], [count for _, count in spans], there)

    # what is wanted

    def _aim(self) -> None:
        finishes, late, last = [], [], 2 * self.facts.horizon
        for number, build in enumerate(self.graph.builds):
            nodes = {node.key: node.number for node in self.graph.of_build(number)}
            ends = [self.end[one] for one in nodes.values()]
            for one in build.done_at:
                ends.append(self.end[nodes[one.operation]] + self.facts.waits[nodes[one.operation]][one.stage])
            told = self.facts.told(finish_of(self.graph, number, self.hint))
            finishes.append(self._var(last, f"finish {number}", told))
            for end in ends:
                self.model.add(finishes[-1] >= end)
            if self.facts.dues[number] is not None:
                due = self.facts.told(self.facts.dues[number])
                lateness = self._var(last, f"late {number}", max(told - due, 0))
                self.model.add(lateness >= finishes[-1] - due)
                late.append(int(build.weight) * lateness)
        self.model.minimize((last * len(finishes) + 1) * sum(late) + sum(finishes))


def _domain(spans: Sequence[tuple[int, int]]) -> Any:
    return cp_model.Domain.from_intervals([list(span) for span in spans])
