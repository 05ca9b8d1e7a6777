"""A plan: what is done when, by whom, why then, and what is wrong with it. Instants are minutes since 1970 UTC."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

Span = tuple[int, int]  # from, until


class Why(StrEnum):
    """What kept an operation from starting earlier; on a tie the first in this list counts."""

    ORDER = "order"
    STAGE = "stage"
    RECOAT = "recoat"
    COLD = "cold"
    MAKER = "maker"
    EQUIPMENT = "equipment"
    ROOM = "room"
    DUST = "dust"
    NOT_BEFORE = "not-before"
    PINNED = "pinned"
    WILL_NOT_FIT = "will-not-fit"
    SHOP_SHUT = "shop-shut"
    NOW = "now"
    PLAN = "plan"


class FlagName(StrEnum):
    """What can be wrong with an operation or a build."""

    LONGER_THAN_SHOP_HOURS = "longer-than-shop-hours"
    MAKER_SHORT = "maker-short"
    EQUIPMENT_SHORT = "equipment-short"
    TOO_COLD = "too-cold"
    COLD_AHEAD = "cold-ahead"
    SUSPECT_JOINT = "suspect-joint"
    BLOCKED = "blocked"
    TOO_HUMID = "too-humid"
    DEW_POINT = "dew-point"
    OPEN_TIME = "open-time"
    WINDOW_MISSED = "window-missed"
    LATE = "late"
    TOO_EARLY = "too-early"


@dataclass(frozen=True, slots=True)
class Because:
    """What holds a date: until when, and the other side where there is one."""

    why: Why
    until: int | None = None
    operation: str | None = None
    build: str | None = None
    stage: str | None = None


@dataclass(frozen=True, slots=True)
class Flag:
    """What is wrong, in one plain sentence with its numbers and a way out, and when it bites."""

    flag: FlagName
    says: str
    at: int | None = None


@dataclass(frozen=True, slots=True)
class Planned:
    """One operation in the plan. Work that is done has no spans and no people; blocked work has no times either.

    `of` is the operation that an inserted one belongs to. `latest_spans` is None unless the plan was asked for
    them, and empty where there are none.
    """

    key: str
    start: int | None = None
    finish: int | None = None
    spans: tuple[Span, ...] = ()
    people: tuple[str, ...] = ()
    stages: Mapping[str, int | None] = field(default_factory=dict)
    latest_start: int | None = None
    latest_spans: tuple[Span, ...] | None = None
    because: Because | None = None
    flags: tuple[Flag, ...] = ()
    of: str | None = None


@dataclass(frozen=True, slots=True)
class PlannedBuild:
    """One build in the plan; its operations in order of start, those without one last.

    `finish` is None where work is blocked, and then nobody can say how late it is. `due` is the instant that counts.
    """

    name: str
    finish: int | None
    cured: int | None
    due: int | None
    minutes_late: int | None
    operations: tuple[Planned, ...]
    flags: tuple[Flag, ...] = ()

    def operation(self, key: str) -> Planned:
        """Return one of its operations by key.

        Takes: the key, of an inserted one too. Returns: it. Raises: KeyError when there is none. Source: shop rule.

        >>> PlannedBuild("Stool", None, None, None, None, (Planned("glue"),)).operation("glue").start is None
        True
        """
        for planned in self.operations:
            if planned.key == key:
                return planned
        raise KeyError(key)


@dataclass(frozen=True, slots=True)
class Plan:
    """The plan of a shop document."""

    now: int
    builds: tuple[PlannedBuild, ...]
    flags: tuple[Flag, ...] = ()

    def build(self, name: str) -> PlannedBuild:
        """Return one of its builds by name.

        Takes: the name. Returns: it. Raises: KeyError when there is none. Source: shop rule.

        >>> Plan(0, (PlannedBuild("Stool", None, None, None, None, ()),)).build("Stool").name
        'Stool'
        """
        for planned in self.builds:
            if planned.name == name:
                return planned
        raise KeyError(name)
