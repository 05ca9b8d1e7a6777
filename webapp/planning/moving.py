"""Work that something must follow closely: moved later until that can be kept.

A layer has to go on while a window is open, fresh edges are to be glued the same day. Where the later operation comes
too late for that, the earlier one is laid again, later by as much, and all that was laid since with it.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from webapp.planning.graph import Graph, Link, Node
from webapp.planning.instants import DAY
from webapp.planning.laid import Laid, clearances, layer_below, windows
from webapp.planning.progress import Progress
from webapp.trade.waits.cure import Recoat, recoat_windows

FARTHEST = 14 * DAY  # as far as work is moved for what must follow it
STEP = 15  # minutes, where no window says by how much


@dataclass(frozen=True, slots=True)
class Late:
    """An operation that comes too late after another: which, and by how many minutes that would have to end later."""

    earlier: int
    minutes: int


def late(node: Node, laid: Mapping[int, Laid], graph: Graph) -> Late | None:
    """Return what an operation comes too late after.

    Takes:   the node; what is laid, it and all that it waits for included; the graph.
    Returns: None where it comes in time, or where nothing can be moved for it.
    Raises:  KeyError where something it waits for is not laid.
    Source:  the shop document, rules 7 and 8.
    """
    own = laid[node.number]
    if own.start is None or own.end is None:
        return None
    for hold in clearances(node, laid, graph):
        if hold.start_by is not None and own.start > hold.start_by and graph.nodes[hold.link.to].may_move:
            return Late(hold.link.to, own.start - hold.start_by)
    link = layer_below(node, graph) if own.missed else None
    if link is None or not graph.nodes[link.to].may_move:
        return None
    return Late(link.to, min(_missed_by(node, own, windows(node, laid, graph), graph), default=STEP))


def _missed_by(node: Node, own: Laid, allowed: Iterable[Recoat], graph: Graph) -> Iterator[int]:
    """By how many minutes a layer misses the end of each window, did it start where it does without the rescue."""
    for window in allowed:
        end = (own.from_ or 0) + graph.lead(node, window.needs).minutes + node.left
        if window.end is not None and window.end < end:
            yield end - window.end


def too_late_after(node: Node, end: int, laid: Mapping[int, Laid], graph: Graph) -> Iterator[Node]:
    """Yield what would come too late after an operation, did its work end at an instant and all else stand still.

    Takes:   the node; the instant; what is laid; the graph.
    Returns: nodes that now come in time.
    Raises:  nothing.
    Source:  the shop document, `because`.
    """
    for number in dict.fromkeys(graph.followers[node.number]):
        follower, other = graph.nodes[number], laid[number]
        if other.start is None or other.end is None or other.missed or follower.progress is not Progress.TO_COME:
            continue
        own = [link for link in follower.links if link.to == node.number]
        if any(_is_late(node, end, laid, follower, link, graph) for link in own):
            yield follower


def _is_late(node: Node, end: int, laid: Mapping[int, Laid], follower: Node, link: Link, graph: Graph) -> bool:
    """Whether a follower would start too late after the end of the work it follows, or outside every window."""
    own, other = laid[node.number], laid[follower.number]
    start, until = other.from_ or 0, other.end or 0
    if link.within is not None:
        tended = end + (own.clears or 0) - (own.end or 0)
        since = graph.ends(node, end, link.stage).get(link.stage, tended) if link.stage else tended
        return since is not None and (other.start or 0) > since + link.within
    allowed = graph.windows(follower, link) if link.over else ()
    spans = recoat_windows(end, allowed, node.pace, graph.air(node))
    return bool(spans) and not any(span.holds(start, until) for span in spans)
