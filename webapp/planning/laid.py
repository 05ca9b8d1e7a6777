"""Operations as they are laid out, before anything is explained: what `place` and `explain` share."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from webapp.planning.graph import Graph, Link, Node
from webapp.planning.needs import NO_LEAD, Lead
from webapp.planning.planned import FlagName, Why
from webapp.planning.roster import Slot
from webapp.trade.waits.cure import Recoat, recoat_windows

NO_STAGES: Mapping[str, int | None] = {}


@dataclass(frozen=True, slots=True)
class Piece:
    """Inserted work, with its slot: before a layer, or inside a wait and then to be begun from `at` until `by`."""

    key: str
    slot: Slot
    at: int | None = None
    by: int | None = None
    is_dusty: bool = False

    @property
    def missed(self) -> bool:
        """Whether tending comes later than it should."""
        return self.by is not None and self.slot.start > self.by


@dataclass(frozen=True, slots=True)
class Chill:
    """Cold that work meets: the flag, from when and how cold (°C), and until when it would have to stay warm."""

    flag: FlagName
    at: int
    temperature: float
    until: int

    @property
    def spoils(self) -> bool:
        """Whether the film does not form, as far as is known."""
        return self.flag is not FlagName.COLD_AHEAD


@dataclass(frozen=True, slots=True)
class Laid:
    """One operation laid out. `start` and `end` are of the hands-on work, `clears` counts its tending too.

    Blocked work has no times; `blocked_by` is the node that it waits for in vain, or its own where no hours are left.
    `slot` is what is still to be worked: none for done work.
    """

    start: int | None = None
    end: int | None = None
    clears: int | None = None
    began: int | None = None
    slot: Slot | None = None
    stages: Mapping[str, int | None] = field(default_factory=dict)
    before: tuple[Piece, ...] = ()
    tending: tuple[Piece, ...] = ()
    window: Recoat | None = None
    missed: bool = False
    short_of: int | None = None
    blocked_by: int | None = None
    chill: Chill | None = None

    @property
    def is_spoilt(self) -> bool:
        """Whether it met such cold that nothing may be built on it."""
        return self.chill is not None and self.chill.spoils

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """Its inserted work in order of time."""
        return (*self.before, *self.tending)

    @property
    def from_(self) -> int | None:
        """When the first of it begins, inserted work before it included."""
        return self.before[0].slot.start if self.before else self.start

    @property
    def lead(self) -> Lead:
        """What is put in before it."""
        if not self.before or self.start is None:
            return NO_LEAD
        pieces = tuple((piece.key, piece.slot.end - piece.slot.start) for piece in self.before)
        return Lead(pieces, tuple(piece.is_dusty for piece in self.before), self.start - self.before[-1].slot.end)


@dataclass(frozen=True, slots=True)
class Clearance:
    """Something that holds an operation, until when (None: for good), and the other side."""

    why: Why
    until: int | None
    link: Link

    @property
    def start_by(self) -> int | None:
        """By when what it holds has to start to follow closely; None where it may take its time."""
        if self.link.within is None or self.until is None:
            return None
        return self.until - self.link.lag + self.link.within


def clearances(node: Node, laid: Mapping[int, Laid], graph: Graph) -> list[Clearance]:
    """Return what an operation waits for in its own build.

    Takes:   the node; what is laid already, all that it waits for included; the graph.
    Returns: one clearance for each link, in order; recoat windows are not in it, but the end of the layer below is.
    Raises:  KeyError where something it waits for is not laid.
    Source:  the shop document, rules 2, 7, 11.
    """
    return [_clearance(node, link, laid[link.to], graph) for link in node.links]


def _clearance(node: Node, link: Link, other: Laid, graph: Graph) -> Clearance:
    why, until = cleared(node, link, other, graph)
    return Clearance(why, None if until is None else until + link.lag, link)


def cleared(node: Node, link: Link, other: Laid, graph: Graph) -> tuple[Why, int | None]:
    """When a link clears, its lag apart. Nothing is built on what the cold has spoilt."""
    if other.is_spoilt:
        return Why.COLD, None
    if link.stage is not None and (link.stage in other.stages or other.end is None):
        return Why.STAGE, other.stages.get(link.stage)
    if link.over and graph.windows(node, link):
        return Why.ORDER, other.end
    return Why.ORDER, other.clears


def layer_below(node: Node, graph: Graph) -> Link | None:
    """The link to the layer below, where that has windows."""
    return graph.below.get(node.number)


def windows(node: Node, laid: Mapping[int, Laid], graph: Graph) -> tuple[Recoat, ...]:
    """Return when a layer may go on over the one below.

    Takes:   the node; what is laid already; the graph.
    Returns: the windows as instants; none where no windows rule it, or where none ever opens.
    Raises:  KeyError where the layer below is not laid.
    Source:  the shop document, rule 7.
    """
    link = layer_below(node, graph)
    began = None if link is None else laid[link.to].began
    if link is None or began is None:
        return ()
    lower = graph.nodes[link.to]
    return recoat_windows(began, graph.windows(node, link), lower.pace, graph.air(lower))


def blocked(node: Node, by: int) -> Laid:
    """Return an operation that has no times: what it waits for never comes, or no hours are left for it."""
    return Laid(stages=dict.fromkeys(node.stage_names), blocked_by=by)


def done(node: Node, ended: int, graph: Graph, tending: tuple[Piece, ...]) -> Laid:
    """Return an operation that was done, with its wait and the tending that is still to be done in it."""
    began = node.began(ended)
    stages = graph.ends(node, began) if node.waits else NO_STAGES
    return Laid(node.operation.started, ended, _clears(ended, tending), began, None, stages, (), tending)


def in_slot(
    node: Node, slot: Slot, graph: Graph, before: tuple[Piece, ...] = (), tending: tuple[Piece, ...] = ()
) -> Laid:
    """Return an operation that is worked in a slot, with its wait and the work inserted around it."""
    began = node.began(slot.end)
    stages = graph.ends(node, began) if node.waits else NO_STAGES
    return Laid(slot.start, slot.end, _clears(slot.end, tending), began, slot, stages, before, tending)


def _clears(end: int, tending: tuple[Piece, ...]) -> int:
    """When hands-on work and its tending are over."""
    return max([end, *(piece.slot.end for piece in tending)]) if tending else end
