"""The plan of a shop document for people: what is done when, by whom, why then, and what is wrong."""

from collections.abc import Iterator, Sequence
from datetime import tzinfo

from webapp.planning import iso
from webapp.planning.columns import columns, plain
from webapp.planning.instants import moment
from webapp.planning.network import Document, Operation
from webapp.planning.planned import Because, Flag, Plan, Planned, PlannedBuild, Span, Why
from webapp.planning.wording import span, when

HEAD = ("when", "build", "operation", "who", "why", "waits until")
WIDEST = (52, 18, 24, 16, 30, 40)
LATEST = "at the latest"

_WHY = {
    Why.ORDER: "after {}",
    Why.STAGE: "wait of {}",
    Why.RECOAT: "window with {}",
    Why.COLD: "cold",
    Why.MAKER: "busy with {}",
    Why.EQUIPMENT: "equipment at {}",
    Why.ROOM: "place to dry: {}",
    Why.DUST: "dust: {}",
    Why.NOT_BEFORE: "not before",
    Why.PINNED: "pinned",
    Why.WILL_NOT_FIT: "no room before closing",
    Why.SHOP_SHUT: "shut",
    Why.NOW: "now",
    Why.PLAN: "could be earlier",
}


def table(document: Document, plan: Plan) -> str:
    """Return a plan as text in columns.

    Takes:   the document it was made of; the plan.
    Returns: lines: the zone, once; each build with its end; every operation in order of start; what is wrong.
    Raises:  IsoError for a zone that does not exist.
    Source:  shop rule.

    >>> from webapp.planning.network import Shop
    >>> table(Document(0, Shop("Europe/Oslo", ())), Plan(0, ()))
    'Times of Europe/Oslo. It is Thu 1 Jan 01:00. No builds.\\n'
    """
    return "\n".join(_Table(document, plan).lines()) + "\n"


class _Table:
    def __init__(self, document: Document, plan: Plan) -> None:
        self.document, self.plan = document, plan
        self.zone: tzinfo = iso.zone(document.shop.time_zone)
        self.year = moment(plan.now, self.zone).year
        self.sources = {(build.name, one.key): one for build in document.builds for one in build.operations}
        self.is_latest = any(one.latest_spans is not None for build in plan.builds for one in build.operations)

    def lines(self) -> Iterator[str]:
        """All of it."""
        first = f"Times of {self.document.shop.time_zone}. It is {self._when(self.plan.now)}."
        if not self.plan.builds:
            yield f"{first} No builds."
            return
        yield first
        yield ""
        yield from (self._build(build) for build in self.plan.builds)
        yield ""
        yield from self._columns()
        flags = list(self._flags())
        if flags:
            yield ""
            yield from flags

    def _build(self, build: PlannedBuild) -> str:
        name, due = plain(build.name), "" if build.due is None else f", due {self._when(build.due)}"
        if build.finish is None:
            return f"{name}: no end yet{due}"
        late = "" if build.due is None else f": {span(build.minutes_late)} late" if build.minutes_late else ": in time"
        cured = "" if build.cured in (None, build.finish) else f", cured {self._when(build.cured or 0)}"
        return f"{name}: done {self._when(build.finish)}{cured}{due}{late}"

    def _columns(self) -> list[str]:
        found = [(build, one) for build in self.plan.builds for one in build.operations]
        found.sort(
            key=lambda pair: (pair[1].start is None, pair[1].spans[0][0] if pair[1].spans else pair[1].start or 0)
        )
        rows = [row for build, one in found for row in self._rows(build, one)]
        if self.is_latest:
            return columns((*HEAD, LATEST), rows, (*WIDEST, WIDEST[0]))
        return columns(HEAD, rows, WIDEST)

    def _rows(self, build: PlannedBuild, one: Planned) -> Iterator[Sequence[str]]:
        """A row, and one more for each further stage of its wait."""
        stages = [f"{name} {'never' if end is None else self._when(end)}" for name, end in one.stages.items()]
        if one.start is None:
            stages = []
        latest = [self._spans(one.latest_spans or ())] if self.is_latest else []
        cells = [self._span(one), build.name, self._name(build, one), ", ".join(one.people), self._why(build, one)]
        yield [*cells, stages[0] if stages else "", *latest]
        for stage in stages[1:]:
            yield [*[""] * len(cells), stage, *[""] * len(latest)]

    def _span(self, one: Planned) -> str:
        if one.spans:
            return self._spans(one.spans)
        if one.start is None:
            return "-"
        return self._spans([(one.start, one.start if one.finish is None else one.finish)])

    def _spans(self, spans: Sequence[Span]) -> str:
        """From when until when, the day once where it is one day."""
        if not spans:
            return ""
        begin, end = self._when(spans[0][0]), self._when(spans[-1][1])
        return f"{begin}-{end[-5:]}" if begin[:-5] == end[:-5] else f"{begin} - {end}"

    def _name(self, build: PlannedBuild, one: Planned) -> str:
        source = self.sources.get((build.name, one.key))
        return (source.name if source is not None and source.name else None) or one.key

    def _why(self, build: PlannedBuild, one: Planned) -> str:
        if one.because is not None:
            return self._because(build, one.because)
        source = self.sources.get((build.name, one.key))
        if one.start is None:
            return "blocked"
        return "" if source is None else _state(source)

    def _because(self, build: PlannedBuild, because: Because) -> str:
        text = _WHY[because.why]
        if because.operation is None:
            return "nobody in" if because.why is Why.MAKER else text.removesuffix(" {}").removesuffix(":")
        source = self.sources.get((because.build or build.name, because.operation))
        name = (source.name if source is not None else None) or because.operation
        other = f" ({because.build})" if because.build not in (None, build.name) else ""
        stage = f": {because.stage}" if because.stage else ""
        return text.format(f"{name}{stage}{other}")

    def _flags(self) -> Iterator[str]:
        yield from (self._flag(None, flag) for flag in self.plan.flags)
        for build in self.plan.builds:
            yield from (self._flag(None, flag) for flag in build.flags)
            for one in build.operations:
                yield from (self._flag(build.name, flag) for flag in one.flags)

    def _flag(self, name: str | None, flag: Flag) -> str:
        at = "" if flag.at is None else f" ({self._when(flag.at)})"
        return plain(f"{flag.flag.value}{at}{'' if name is None else f', {name}'}: {flag.says}")

    def _when(self, instant: int) -> str:
        """An instant, with its year where that is not this one's."""
        year = moment(instant, self.zone).year
        text = when(instant, self.zone)
        return text if year == self.year else f"{text[:-6]} {year}{text[-6:]}"


def _state(operation: Operation) -> str:
    """What became of work that is not to be planned any more."""
    if operation.abandoned is not None:
        return "abandoned"
    if operation.finished is not None:
        return "done"
    return "in hand" if operation.started is not None else ""
