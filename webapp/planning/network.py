"""A shop and its open builds, as the planner sees them: the shop document in frozen dataclasses.

Every key of the shop document has its place here, those of later rules included, so that nothing is lost between
reading and printing. Instants are minutes since 1970 UTC (`instants.py`), durations are minutes, times of day are
minutes after midnight, weekdays count from Monday 0, temperatures and their differences are °C.

What is None switches its rule off. `document.py` makes these out of JSON and refuses what is wrong; whoever makes them
by hand answers for references that exist, unique names, and no circle.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from webapp.trade.air.pace import Pace
from webapp.trade.air.readings import Reading as Reading
from webapp.trade.waits.cure import Stage, Tend, Window

EVERY_DAY = (0, 1, 2, 3, 4, 5, 6)


@dataclass(frozen=True, slots=True)
class Opening:
    """Open hours of the week: on these weekdays from `open` to `close`, which may be 1440."""

    days: tuple[int, ...]
    open: int
    close: int


@dataclass(frozen=True, slots=True)
class Closed:
    """Whole local days on which nobody works, both ends included."""

    first: date
    last: date
    note: str = ""


@dataclass(frozen=True, slots=True)
class Extra:
    """Hours on one date, for all, on closed days too."""

    day: date
    open: int
    close: int


@dataclass(frozen=True, slots=True)
class Maker:
    """Somebody who works; own hours replace the shop's weekly ones."""

    name: str
    hours: tuple[Opening, ...] | None = None


@dataclass(frozen=True, slots=True)
class Equipment:
    """Countable things that work and waits hold."""

    name: str
    count: int


@dataclass(frozen=True, slots=True)
class Climate:
    """The air by day and by night, and what was read of it. A room's own climate lacks what is the shop's: None."""

    day: float | None = None
    night: float | None = None
    day_from: int | None = None
    day_to: int | None = None
    humidity: float | None = None
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class Room:
    """A room: how many pieces may stand wet in it (None: any number), and how long its dust hangs."""

    name: str
    drying_places: int | None = None
    settle: int = 0
    climate: Climate | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """The place: zone, hours, people, things, air."""

    time_zone: str
    hours: tuple[Opening, ...]
    closed: tuple[Closed, ...] = ()
    extra: tuple[Extra, ...] = ()
    makers: tuple[Maker, ...] = (Maker("maker 1"),)
    named: bool = True
    least_minutes: int = 0
    equipment: tuple[Equipment, ...] = ()
    rooms: tuple[Room, ...] = ()
    climate: Climate = Climate(20.0, 20.0, 7 * 60, 22 * 60, 50.0)


@dataclass(frozen=True, slots=True)
class Product:
    """A glue or finish as this shop uses it."""

    name: str
    family: str | None = None
    rated_at: float | None = None
    doubles_per: float | None = None
    faster_when_warm: bool = False
    faster_per: float | None = None
    lowest: float | None = None
    lowest_for_hours: float = 24
    counts_above: float | None = None
    humidity_max: float | None = None
    dew_gap: float | None = None
    open_minutes: int | None = None
    stages: tuple[Stage, ...] = ()
    tend: tuple[Tend, ...] = ()
    recoat: tuple[Window, ...] = ()
    recoat_over: Mapping[str, tuple[Window, ...]] = field(default_factory=dict)
    missed_needs: tuple[str, ...] = ("scuff",)
    dust_free: str | None = None

    @property
    def pace(self) -> Pace:
        """How its waits run in the cold, those apart that have a rule of their own."""
        return Pace(self.rated_at, self.doubles_per, self.faster_when_warm, self.faster_per, self.counts_above)


def windows_over(lower: Product, upper: Product | None) -> tuple[Window, ...]:
    """Return the recoat windows that rule a layer over another.

    Takes:   the product of the lower layer; that of the upper one, None where it has none.
    Returns: what the upper one says of that product or its family, or else the lower one's own windows.
    Raises:  nothing.
    Source:  the shop document, `recoat_over`.

    >>> windows_over(Product("oil", recoat=(Window(24),)), Product("varnish", recoat_over={"oil": (Window(72),)}))
    (Window(from_hours=72, to_hours=None, needs=()),)
    """
    pairs = upper.recoat_over if upper else {}
    named = next((name for name in (lower.name, lower.family) if name is not None and name in pairs), None)
    return lower.recoat if named is None else pairs[named]


@dataclass(frozen=True, slots=True)
class Hold:
    """Equipment an operation takes, given back at a stage, or without one when the hands-on work ends."""

    name: str
    count: int
    until: str | None = None


@dataclass(frozen=True, slots=True)
class After:
    """What an operation waits for: the end of another of its build, tending included, or a stage of its wait."""

    operation: str
    stage: str | None = None
    lag: int = 0
    within: int | None = None


@dataclass(frozen=True, slots=True)
class Pin:
    """Fixed by the maker: to an instant, or to a local date."""

    at: int | None = None
    on: date | None = None


@dataclass(frozen=True, slots=True)
class Operation:
    """One step of a build. `minutes` is the likely hands-on time; `split` and `dusty` None mean as its kind."""

    key: str
    kind: str
    minutes: int
    low: int | None = None
    high: int | None = None
    name: str | None = None
    group: str | None = None
    split: bool | None = None
    dusty: bool | None = None
    makers: int = 1
    room: str | None = None
    product: str | None = None
    count: int = 1
    done: int = 0
    stages: tuple[Stage, ...] = ()
    equipment: tuple[Hold, ...] = ()
    after: tuple[After, ...] = ()
    over: str | None = None
    not_before: int | None = None
    pinned: Pin | None = None
    assembly: int | None = None
    started: int | None = None
    paused: bool = False
    finished: int | None = None
    abandoned: int | None = None
    worked: int = 0
    wait_began: int | None = None
    reached: Mapping[str, int] = field(default_factory=dict)
    overruled: tuple[str, ...] = ()
    again_for: str | None = None


@dataclass(frozen=True, slots=True)
class DoneAt:
    """A stage to be reached before hand-over although no operation waits for it."""

    operation: str
    stage: str


@dataclass(frozen=True, slots=True)
class Build:
    """One piece. `due` and `not_before` are an instant, or a local date."""

    name: str
    operations: tuple[Operation, ...]
    due: int | date | None = None
    not_before: int | date | None = None
    weight: float = 1
    done_at: tuple[DoneAt, ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """A shop at a moment, with its products and open builds: all that a plan is made of."""

    now: int
    shop: Shop
    products: tuple[Product, ...] = ()
    builds: tuple[Build, ...] = ()
    temperature_unit: str = "C"
