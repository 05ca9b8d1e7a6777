"""A document and the plan of it, put side by side: what all groups of rules go by."""

from collections.abc import Iterator
from datetime import timedelta
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

from tests.planning.checking.air import Air, Rule
from tests.planning.checking.hours import Hours
from tests.planning.checking.times import Json, cut, day_or_instant, local_day, up
from tests.planning.checking.works import Build, Link, Piece, Printed, State, Work

TIMES = ("started", "finished", "abandoned", "wait_began")


class Facts:
    """Everything the rules ask for. The plan is one whose shape is right."""

    def __init__(self, document: Json, plan: Json) -> None:
        self.document, self.shop = document, document["shop"]
        self.zone = ZoneInfo(self.shop["time_zone"])
        self.now = up(document["now"])
        self.unit: str = document.get("temperature_unit", "C")
        self.products: dict[str | None, Json] = {one["name"]: one for one in document.get("products", [])}
        self.rooms: dict[str | None, Json] = {one["name"]: one for one in self.shop.get("rooms", [])}
        self.builds = [
            self.build(number, *pair)
            for number, pair in enumerate(zip(document["builds"], plan["builds"], strict=True))
        ]
        self.works = [work for build in self.builds for work in build.works.values()]
        self.first = local_day(min(self.times()), self.zone) - timedelta(days=9)
        self.hours = Hours(self.shop, self.zone, self.first)
        self.airs: dict[str | None, Air] = {}
        self.linked = {id(work): build.links(work) for build in self.builds for work in build.works.values()}

    def build(self, number: int, source: Json, got: Json) -> Build:
        build = Build(f'builds[{number}] "{source["name"]}"', source, got)
        printed = {one["key"]: one for one in got["operations"]}
        paths = {key: f'builds[{number}].operations[{place}] "{key}"' for place, key in enumerate(printed)}
        for one in source["operations"]:
            key, product = one["key"], self.products.get(one.get("product"), {})
            build.works[key] = Work(paths[key], one, printed[key], product, number)
        for key in [key for key in printed if key not in build.works]:
            insert(build, paths[key], printed[key])
        for work in build.works.values():
            work.before.sort(key=lambda piece: piece.spans)
        return build

    def times(self) -> Iterator[int]:
        """Every instant that may be the earliest one to be asked about."""
        yield self.now
        for work in self.works:
            given = [*(work.source.get(key) for key in TIMES), *work.source.get("reached", {}).values()]
            yield from (at for at in map(cut, given) if at is not None)
            yield from (start for one in (work, *work.pieces) for start, _ in one.spans)

    def links(self, work: Work) -> list[Link]:
        return self.linked[id(work)]

    @cached_property
    def followers(self) -> dict[int, list[Link]]:
        """The links to each operation, by its id."""
        found: dict[int, list[Link]] = {id(work): [] for work in self.works}
        for links in self.linked.values():
            for link in links:
                found[id(link.to)].append(link)
        return found

    def air(self, room: str | None) -> Air:
        if room not in self.airs:
            self.airs[room] = Air(self.shop, room, self.zone, self.first)
        return self.airs[room]

    def rule(self, product: Json, **other: Any) -> Rule:
        """What a minute counts for by a product, with what a stage says otherwise."""
        given = {"doubles_per": product.get("doubles_per"), "counts_above": product.get("counts_above")} | other
        is_faster, per = bool(product.get("faster_when_warm")), product.get("faster_per")
        return Rule(product.get("rated_at"), given["doubles_per"], is_faster, per, given["counts_above"])

    def moment(self, link: Link) -> int | None:
        """When what a link waits for is over, its lag apart; None where it never is."""
        other = link.to
        if other.state is State.ABANDONED or other.is_spoilt or other.finish is None:
            return None
        if link.stage is not None and link.stage in other.stages:
            return other.stages[link.stage]
        return other.finish if link.rows else other.ends

    def clears(self, link: Link) -> int | None:
        moment = self.moment(link)
        return None if moment is None else moment + link.lag

    def dates(self, work: Work) -> list[int]:
        given = [self.builds[work.build].source.get("not_before"), work.source.get("not_before")]
        return [day_or_instant(text, self.zone) for text in given if text is not None]

    def ready(self, work: Work) -> int:
        """From when on it could start, whoever is in and whatever else is in the way."""
        cleared = [at for link in self.links(work) if (at := self.clears(link)) is not None]
        return max([self.now, *cleared, *self.dates(work)])

    def printed(self) -> Iterator[Printed]:
        """All that is planned, inserted work too."""
        for work in self.works:
            yield from (work, *work.pieces)

    @cached_property
    def busy(self) -> dict[str, list[tuple[int, int, Printed]]]:
        """What each person is given, in order."""
        found: dict[str, list[tuple[int, int, Printed]]] = {}
        for one in self.printed():
            for person in one.people:
                found.setdefault(person, []).extend((*span, one) for span in one.spans)
        for given in found.values():
            given.sort(key=lambda work: work[:2])
        return found


def insert(build: Build, path: str, got: Json) -> None:
    """Give inserted work to the operation it belongs to: put in before it, or tending where its product has such."""
    parent = owner(got["key"], build.works)
    piece = Piece(path, got, got["key"][len(parent.key) + 1 :])
    is_tending = piece.name in {one["key"] for one in parent.product.get("tend", [])}
    is_first = None not in (piece.start, parent.start) and (piece.start or 0) < (parent.start or 0)
    (parent.tending if is_tending and not is_first else parent.before).append(piece)


def owner(key: str, works: dict[str, Work]) -> Work:
    """Whose inserted work has a key: the longest key of an operation that it begins with."""
    return works[max((one for one in works if key.startswith(f"{one}.")), key=len)]
