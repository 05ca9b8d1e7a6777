"""The operations of a plan beside those of the document, with what is put in before or inside them."""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from tests.planning.checking.times import Json, Span, cut

IN_ONE_PIECE = {"glue-up", "veneer", "bend", "stain", "coat", "pack", "deliver"}
DUSTY = {
    "break down", "rough mill", "final mill", "mill", "resaw", "cut", "joinery", "groove", "mortise", "dovetail",
    "rabbet", "shape", "turn", "carve", "level", "sand",
}  # fmt: skip
PUT_IN = {"sand": 30, "wash": 15, "scuff": 15}  # other words are not of the document


class State(StrEnum):
    TO_COME = "to come"
    RUNNING = "running"
    DONE = "done"
    ABANDONED = "abandoned"


class Printed:
    """What the plan says of one operation, an inserted one too."""

    def __init__(self, path: str, got: Json) -> None:
        self.path, self.got, self.key = path, got, str(got["key"])
        self.start, self.finish = cut(got["start"]), cut(got["finish"])
        self.spans: list[Span] = [(cut(start) or 0, cut(end) or 0) for start, end in got["spans"]]
        self.people: list[str] = got["people"]
        self.flags = {flag["flag"] for flag in got["flags"]}
        self.because: Json | None = got["because"]

    def say(self, sentence: str) -> str:
        return f"{self.path} {sentence}"

    @property
    def is_laid(self) -> bool:
        return bool(self.spans)

    @property
    def is_dusty(self) -> bool:
        return False

    @property
    def minutes(self) -> int:
        return sum(end - start for start, end in self.spans)


class Piece(Printed):
    """Inserted work: put in before a coat, or tending inside a wait."""

    def __init__(self, path: str, got: Json, name: str) -> None:
        super().__init__(path, got)
        self.name = name

    @property
    def is_dusty(self) -> bool:
        return self.name in DUSTY


class Work(Printed):
    """One operation of the document."""

    def __init__(self, path: str, source: Json, got: Json, product: Json, build: int) -> None:
        super().__init__(path, got)
        self.source, self.product, self.build = source, product, build
        self.stages = {name: cut(at) for name, at in got["stages"].items()}
        self.before: list[Piece] = []
        self.tending: list[Piece] = []
        self.begun = cut(source.get("started"))
        self.room: str | None = source.get("room")

    @property
    def state(self) -> State:
        if self.source.get("abandoned") is not None:
            return State.ABANDONED
        if self.source.get("finished") is not None:
            return State.DONE
        is_running = self.source.get("started") is not None and not self.source.get("paused")
        return State.RUNNING if is_running else State.TO_COME

    @property
    def is_to_come(self) -> bool:
        return self.state is State.TO_COME

    @property
    def is_pinned(self) -> bool:
        return self.is_to_come and self.source.get("pinned") is not None

    @property
    def is_free(self) -> bool:
        """Whether the planner chose when it is."""
        return self.is_to_come and self.is_laid and not self.is_pinned

    @property
    def is_split(self) -> bool:
        said = self.source.get("split")
        return self.source["kind"] not in IN_ONE_PIECE if said is None else bool(said)

    @property
    def is_dusty(self) -> bool:
        said = self.source.get("dusty")
        return self.source["kind"] in DUSTY if said is None else bool(said)

    @property
    def is_spoilt(self) -> bool:
        """Whether the plan says that nothing may be built on it."""
        return bool(self.flags & {"too-cold", "suspect-joint"})

    @property
    def begins(self) -> int:
        """When the first of it begins, what is put in before it included."""
        return min([self.spans[0][0], *(piece.spans[0][0] for piece in self.before)])

    @property
    def ends(self) -> int | None:
        """When the last of it ends, its tending included; None where it has no end."""
        return None if self.finish is None else max([self.finish, *(one.finish or 0 for one in self.tending)])

    @property
    def began(self) -> int | None:
        """When its waits began."""
        tight = cut(self.source.get("wait_began"))
        return self.finish if tight is None else tight

    @property
    def pieces(self) -> list[Piece]:
        return [*self.before, *self.tending]

    def lefts(self) -> set[int]:
        """What may be left of it, in minutes: two where the document does not say (some done, no time booked)."""
        given: Any = self.source["minutes"]
        minutes = given if isinstance(given, int) else given["likely"]
        usual = {"worked_minutes": 0, "done": 0, "count": 1}
        worked, done, count = (self.source.get(key, value) for key, value in usual.items())
        if not done:
            return {max(minutes - worked, -(-minutes // 10))}
        if worked:
            return {max(1, -(-worked * (count - done) // done))}
        return {1, max(1, -(-minutes * (count - done) // count))}


@dataclass(frozen=True, eq=False)
class Link:
    """What an operation waits for. `is_named` is false where the document names another, abandoned one."""

    of: Work
    to: Work
    stage: str | None = None
    lag: int = 0
    within: int | None = None
    over: bool = False
    is_named: bool = True

    def __str__(self) -> str:
        what = f'"{self.to.key}"' + (f' to be "{self.stage}"' if self.stage else "")
        return f"the layer {what}" if self.over else what

    @property
    def rows(self) -> list[Json]:
        """The recoat windows that rule a layer over another: those of the pair, product first, or the lower one's."""
        if not self.over:
            return []
        lower, pairs = self.to.product, self.of.product.get("recoat_over") or {}
        key = next((n for n in (lower.get("name"), lower.get("family")) if n is not None and n in pairs), None)
        found: list[Json] = lower.get("recoat", []) if key is None else pairs[key]
        return found


@dataclass
class Build:
    """One build of the document beside the plan's."""

    path: str
    source: Json
    got: Json
    works: dict[str, Work] = field(default_factory=dict)

    def say(self, sentence: str) -> str:
        return f"{self.path} {sentence}"

    def meant(self, key: str) -> Work:
        """The operation that a link to a key means: the one that does abandoned work again."""
        passed = {key}
        while self.works[key].state is State.ABANDONED:
            again = next((one.key for one in self.works.values() if one.source.get("again_for") == key), key)
            if again in passed:
                break
            passed.add(again)
            key = again
        return self.works[key]

    def links(self, work: Work) -> list[Link]:
        """All that an operation waits for; a link to the abandoned work that it does again itself says nothing."""
        named = [(after["operation"], after, False) for after in work.source.get("after", [])]
        if work.source.get("over") is not None:
            named.append((work.source["over"], {}, True))
        found = []
        for key, after, over in named:
            to = self.meant(key)
            if to is not work:
                stage, lag, within = after.get("stage"), after.get("lag_minutes", 0), after.get("within_minutes")
                found.append(Link(work, to, stage, lag, within, over, to.key == key))
        return found
