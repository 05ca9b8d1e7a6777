"""The plan of a shop document: laid out in the given order, explained, flagged."""

from collections.abc import Iterator, Mapping, Sequence

from webapp.planning.backwards.spans import with_latest
from webapp.planning.cost import due_of, finish_of
from webapp.planning.explain import Explainer
from webapp.planning.flags import Flagger
from webapp.planning.graph import Graph, Node
from webapp.planning.hours import Hours
from webapp.planning.improve import improve
from webapp.planning.laid import Laid, Piece
from webapp.planning.latest import latest_starts
from webapp.planning.network import Document
from webapp.planning.planned import Because, Flag, Plan, Planned, PlannedBuild, Why
from webapp.planning.progress import Progress


def plan(document: Document, schedules: int = 1, shown: Sequence[int] | None = None, *, latest: bool = False) -> Plan:
    """Return the plan of a shop's open builds.

    Takes:   the document, as `document.read` or a caller who answers for it makes it; how many orders may be tried; the
             order last shown, to keep to where no other is clearly better; whether builds are laid backwards too.
    Returns: the best plan found, its builds in the order of the document. One order: that shown, or the document's.
    Raises:  CircleError when operations wait for each other; IsoError for a zone that does not exist.
    Source:  the shop document.

    >>> from webapp.planning.network import Build, Opening, Operation, Shop
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))  # Thursdays; 1 January 1970 was one
    >>> stool = plan(Document(0, shop, builds=(Build("Stool", (Operation("mill", "mill", 60),)),))).build("Stool")
    >>> stool.finish, stool.operation("mill").because.why.value
    (540, 'shop-shut')
    """
    graph, hours = Graph(document), Hours(document.shop)
    laid = improve(graph, hours, schedules, shown).laid
    found = told(graph, hours, laid)
    return with_latest(found, graph, hours, laid) if latest else found


def told(graph: Graph, hours: Hours, laid: Mapping[int, Laid]) -> Plan:
    """Return a layout, told as a plan.

    Takes:   the graph; the hours of its shop; all operations laid out.
    Returns: its plan: explained, flagged.
    Raises:  nothing.
    Source:  the shop document.

    >>> from webapp.planning.network import Build, Opening, Operation, Shop
    >>> from webapp.planning.place import lay_out
    >>> shop = Shop("UTC", (Opening((3,), 480, 1020),))
    >>> graph, hours = Graph(Document(0, shop, builds=(Build("Stool", (Operation("mill", "mill", 60),)),))), Hours(shop)
    >>> told(graph, hours, lay_out(graph, hours)).build("Stool").finish
    540
    """
    return _Report(graph, hours, laid).plan()


class _Report:
    """One layout, told as a plan."""

    def __init__(self, graph: Graph, hours: Hours, laid: Mapping[int, Laid]) -> None:
        self.graph, self.hours, self.laid = graph, hours, laid
        self.explainer = Explainer(graph, hours, laid)
        self.flagger = Flagger(graph, hours, laid, self.explainer.holdings)
        self.makers = [maker.name for maker in graph.document.shop.makers]
        self.finishes = [finish_of(graph, number, laid) for number in range(len(graph.builds))]
        self.dues = [due_of(build, hours) for build in graph.builds]
        self.latest = latest_starts(graph, hours, laid, self._limits())

    def plan(self) -> Plan:
        """The plan as a whole."""
        return Plan(self.graph.document.now, tuple(self._build(number) for number in range(len(self.graph.builds))))

    def _limits(self) -> dict[int, int]:
        """By when each build is to end: its planned finish, or its due where that is later."""
        ends = [[when for when in pair if when is not None] for pair in zip(self.finishes, self.dues, strict=True)]
        return {number: max(pair) for number, pair in enumerate(ends) if pair}

    def _build(self, number: int) -> PlannedBuild:
        build, nodes = self.graph.builds[number], self.graph.of_build(number)
        finish, due = self.finishes[number], self.dues[number]
        planned = [one for node in nodes for one in self._operations(node)]
        late = None if finish is None else max(finish - due, 0) if due is not None else 0
        flags: tuple[Flag, ...] = ()
        if late and finish is not None and due is not None:
            flags = (self.flagger.late(build.name, finish, due),)
        return PlannedBuild(
            name=build.name,
            finish=finish,
            cured=_cured(finish, nodes, self.laid),
            due=due,
            minutes_late=late,
            operations=tuple(sorted(planned, key=lambda one: (one.start is None, one.start or 0))),
            flags=flags,
        )

    def _operations(self, node: Node) -> Iterator[Planned]:
        """An operation with what is put in before it and inside its wait."""
        laid = self.laid[node.number]
        own = self._because(node, laid)
        yield from self._pieces(node, laid.before, own)
        if laid.before:
            own = self._after(node, laid.before, laid.start)
        slot = laid.slot
        yield Planned(
            key=node.key,
            start=laid.start,
            finish=node.operation.abandoned if node.progress is Progress.ABANDONED else laid.end,
            spans=slot.spans if slot else (),
            people=self._people(slot.people) if slot else (),
            stages=dict(laid.stages),
            latest_start=self.latest.get(node.number),
            because=own,
            flags=self.flagger.of_node(node),
        )
        yield from self._pieces(node, laid.tending, None)

    def _because(self, node: Node, laid: Laid) -> Because | None:
        if node.progress is not Progress.TO_COME or laid.slot is None:
            return None
        return self.explainer.because(node)

    def _after(self, node: Node, before: Sequence[Piece], start: int | None = None) -> Because:
        """A layer follows what was put in before it, when its dust has settled."""
        last, name = before[-1], self.graph.builds[node.build].name
        if start is not None and start > last.slot.end:
            dusty = next(piece for piece in reversed(before) if piece.is_dusty)
            return Because(Why.DUST, start, dusty.key, name)
        return Because(Why.ORDER, last.slot.end, last.key, name)

    def _pieces(self, node: Node, pieces: Sequence[Piece], first: Because | None) -> Iterator[Planned]:
        for place, piece in enumerate(pieces):
            because = first if place == 0 and first is not None else None
            if because is None and piece.at is not None:
                because = self.explainer.because_of_piece(node, piece)
            yield Planned(
                key=piece.key,
                start=piece.slot.start,
                finish=piece.slot.end,
                spans=piece.slot.spans,
                people=self._people(piece.slot.people),
                because=because or self._after(node, pieces[: max(place, 1)]),
                flags=self.flagger.of_tending(node, piece),
                of=node.key,
            )

    def _people(self, numbers: Sequence[int]) -> tuple[str, ...]:
        return tuple(self.makers[number] for number in numbers)


def _cured(finish: int | None, nodes: Sequence[Node], laid: Mapping[int, Laid]) -> int | None:
    """When the last wait of a build is over, its finish included."""
    ends = [finish, *(end for node in nodes for end in laid[node.number].stages.values())]
    known = [end for end in ends if end is not None]
    return max(known) if len(known) == len(ends) else None
