"""The operations of all builds as one graph: what each waits for, and in which order to place them.

Operations are numbered in document order. A link to abandoned work means the operation that does it again, where there
is one.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from webapp.planning.airs import Airs
from webapp.planning.needs import NO_LEAD, NO_NEEDS, Lead, Needs, lead, needs_of
from webapp.planning.network import After, Build, Document, Operation, Product, Shop, windows_over
from webapp.planning.progress import Progress, minutes_left, progress
from webapp.trade.air.climate import History
from webapp.trade.air.pace import AS_LABELLED, Pace
from webapp.trade.kinds import inserted, kind
from webapp.trade.waits.clock import Clock, clock
from webapp.trade.waits.cure import Paced, Window, paced, paced_ends


class CircleError(ValueError):
    """Operations that wait for each other."""


@dataclass(frozen=True, slots=True)
class Link:
    """What a node waits for: the end of another, a stage of its wait, or as the layer over it."""

    to: int
    stage: str | None = None
    lag: int = 0
    within: int | None = None
    over: bool = False


@dataclass(frozen=True, slots=True)
class Node:
    """An operation with all that it needs to be placed."""

    number: int
    build: int
    operation: Operation
    product: Product | None
    progress: Progress
    left: int
    split: bool
    links: tuple[Link, ...]
    pace: Pace = AS_LABELLED
    waits: tuple[Paced, ...] = ()
    needs: Needs = NO_NEEDS

    @property
    def key(self) -> str:
        """The operation's key in its build."""
        return self.operation.key

    @property
    def may_move(self) -> bool:
        """Whether its place is still to be decided."""
        return self.progress is Progress.TO_COME and self.operation.pinned is None

    def began(self, ended: int) -> int:
        """When its wait began, its hands-on work having ended at an instant."""
        return ended if self.operation.wait_began is None else self.operation.wait_began

    @property
    def stage_names(self) -> tuple[str, ...]:
        """The stages of its wait."""
        return tuple(stage.name for stage in self.waits)


class Graph:
    """The nodes of a document."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.builds = document.builds
        self.airs = Airs(document.shop)
        products = {product.name: product for product in document.products}
        self.nodes: list[Node] = []
        waits = _waits()
        for number, build in enumerate(document.builds):
            self.nodes += _nodes(number, build, len(self.nodes), products, waits, document.shop)
        self._clocks: dict[int, tuple[tuple[str, float, Clock], ...]] = {}
        self._of = [[node for node in self.nodes if node.build == number] for number in range(len(self.builds))]
        self.asked = [self._stages_asked(number) for number in range(len(self.builds))]
        self.close = frozenset(n.number for n in self.nodes for link in n.links if link.within is not None)
        self.followers: list[list[int]] = [[] for _ in self.nodes]
        for node in self.nodes:
            for link in node.links:
                self.followers[link.to].append(node.number)
        self.layers = {node.number: link for node in self.nodes for link in node.links if link.over}
        self.below = {n: link for n, link in self.layers.items() if self.windows(self.nodes[n], link)}
        pressed = (link.to for n in self.nodes for link in n.links if self.is_pressing(n, link))
        self.pressed = frozenset(number for number in pressed if self.nodes[number].may_move)
        self._leads: dict[tuple[int, tuple[str, ...]], Lead] = {}

    def is_pressing(self, node: Node, link: Link) -> bool:
        """Whether a node has to follow another closely."""
        return link.within is not None or self.below.get(node.number) is link

    def _stages_asked(self, number: int) -> list[tuple[int, str]]:
        """The stages to be reached before a build is handed over; of abandoned work, those of what does it again."""
        build = self.builds[number]
        places, meant = {node.key: node.number for node in self._of[number]}, _meant(build) if build.done_at else {}
        return [(places[meant[one.operation]], one.stage) for one in build.done_at]

    def of_build(self, number: int) -> Sequence[Node]:
        """The nodes of one build in document order."""
        return self._of[number]

    def order(self, wanted: Sequence[int] | None = None) -> Iterator[int]:
        """Yield the nodes in an order in which nothing comes before what it waits for.

        `wanted` is the order to keep to where that allows it, all nodes once; without it, that of the document.
        """
        rank = {number: place for place, number in enumerate(wanted if wanted is not None else range(len(self.nodes)))}
        waits_for = [len({link.to for link in node.links}) for node in self.nodes]
        ready = [(rank[number], number) for number, waits in enumerate(waits_for) if not waits]
        heapify(ready)
        placed = 0
        while ready:
            number = heappop(ready)[1]
            yield number
            placed += 1
            for follower in dict.fromkeys(self.followers[number]):
                waits_for[follower] -= 1
                if not waits_for[follower]:
                    heappush(ready, (rank[follower], follower))
        if placed < len(self.nodes):
            raise CircleError("some operations wait for each other; take out one of their links")

    def air(self, node: Node) -> History:
        """The air of the room that an operation is done and waits in."""
        return self.airs.of(node.operation.room)

    def ends(self, node: Node, began: int, stage: str | None = None) -> dict[str, int | None]:
        """When the stages of a node's wait are reached that began at an instant, or one of them alone."""
        told = node.operation.reached
        if told:
            waits = [wait for wait in node.waits if stage in (None, wait.name)]
            return paced_ends(began, waits, told, self.document.now, self.air(node))
        clocks = self._clocks.get(node.number)
        if clocks is None:
            air = self.air(node)
            clocks = self._clocks[node.number] = tuple((w.name, w.minutes, clock(air, w.pace)) for w in node.waits)
        return {name: run.end(began, minutes) for name, minutes, run in clocks if stage is None or name == stage}

    def windows(self, node: Node, link: Link) -> tuple[Window, ...]:
        """The recoat windows that rule a layer over another: those of the pair, or else of the lower layer."""
        lower = self.nodes[link.to].product
        if lower is None:
            return ()
        return windows_over(lower, node.product)

    def lead(self, node: Node, needs: tuple[str, ...]) -> Lead:
        """The work to be put in before a layer, without what the build has of its own."""
        below = self.below.get(node.number)
        if below is None or not needs:
            return NO_LEAD
        found = self._leads.get((node.number, needs))
        if found is None:
            kinds = [need for need in needs if not self._between(below.to, node.number, need)]
            pieces = [(f"{node.key}.{kind}", inserted(kind)[1]) for kind in kinds]
            found = lead(pieces, kinds, node.needs.settle) if kinds else NO_LEAD
            self._leads[node.number, needs] = found
        return found

    def piece(self, node: Node) -> int:
        """The lowest of the layers that are one piece with an operation: itself, where it goes over none."""
        number, passed = node.number, {node.number}
        while number in self.layers and self.layers[number].to not in passed:
            number = self.layers[number].to
            passed.add(number)
        return number

    def _between(self, lower: int, upper: int, name: str) -> bool:
        """Whether the build has work of a kind after one operation and before another."""
        after = self._reached([lower], {n: self.followers[n] for n in range(len(self.nodes))})
        before = self._reached([upper], {n.number: [link.to for link in n.links] for n in self.nodes})
        return any(self.nodes[number].operation.kind == name for number in after & before - {lower, upper})

    def _reached(self, start: Iterable[int], ways: Mapping[int, Sequence[int]]) -> set[int]:
        reached: set[int] = set()
        edge = list(start)
        while edge:
            number = edge.pop()
            if number not in reached:
                reached.add(number)
                edge += ways[number]
        return reached


def _waits() -> Callable[[Product | None, Operation], tuple[Paced, ...]]:
    """The stages of operations, made once for those that set none of their own."""
    made: dict[str | None, tuple[Paced, ...]] = {None: ()}

    def waits(product: Product | None, operation: Operation) -> tuple[Paced, ...]:
        if operation.stages:
            return paced(product.stages if product else (), operation.stages, product.pace if product else AS_LABELLED)
        if product is not None and product.name not in made:
            made[product.name] = paced(product.stages, (), product.pace)
        return made[product.name if product else None]

    return waits


def _nodes(
    number: int,
    build: Build,
    first: int,
    products: Mapping[str, Product],
    waits: Callable[[Product | None, Operation], tuple[Paced, ...]],
    shop: Shop,
) -> Iterator[Node]:
    places = {operation.key: first + place for place, operation in enumerate(build.operations)}
    meant = _meant(build)
    for operation in build.operations:
        product = products.get(operation.product or "")
        yield Node(
            number=places[operation.key],
            build=number,
            operation=operation,
            product=product,
            progress=progress(operation),
            left=minutes_left(operation),
            split=kind(operation.kind).split if operation.split is None else operation.split,
            links=tuple(_links(operation, meant, places)),
            pace=product.pace if product else AS_LABELLED,
            waits=waits(product, operation),
            needs=needs_of(operation, product, shop),
        )


def _links(operation: Operation, meant: Mapping[str, str], places: Mapping[str, int]) -> Iterator[Link]:
    named: list[tuple[After, bool]] = [(after, False) for after in operation.after]
    if operation.over is not None:
        named.append((After(operation.over), True))
    for after, over in named:
        other = meant[after.operation]
        # A link to the abandoned work that this very operation does again says nothing.
        if not (other == operation.key and after.operation != other):
            yield Link(places[other], after.stage, after.lag, after.within, over)


def _meant(build: Build) -> dict[str, str]:
    """The operation that a link to each key means: the one that does abandoned work again."""
    again: dict[str, str] = {}
    for operation in build.operations:
        if operation.again_for is not None:
            again.setdefault(operation.again_for, operation.key)
    abandoned = {operation.key for operation in build.operations if operation.abandoned is not None}
    meant = {}
    for operation in build.operations:
        key, passed = operation.key, {operation.key}
        while key in abandoned and again.get(key, key) not in passed:
            key = again[key]
            passed.add(key)
        meant[operation.key] = key
    return meant
