"""What the tables of the invented shop are written in: pieces, their steps, what was said, bought, paid and drawn.

Days count from the day a piece was begun, minutes are hands-on work. All moments follow in `timeline.py`.
"""

from dataclasses import dataclass
from decimal import Decimal

from webapp.trade.wood.movement import FLAT

OWNER, HELPER = "owner", "helper"
LONG, SHORT, PRESS = "long clamps", "short clamps", "press"
US, METRIC = "in", "mm"


@dataclass(frozen=True)
class Note:
    """Something said after a share of a step's work: a note, a reading, a size."""

    text: str
    share: float = 1.0
    kind: str = "noted"


@dataclass(frozen=True)
class Shot:
    """A picture of the album, taken after a share of a step's work, or of a piece so many days after it was begun."""

    picture: str
    caption: str
    share: float = 1.0
    days: float = 0.0
    cover: bool = False


@dataclass(frozen=True)
class Measured:
    """What a size of the piece measured after a share of a step's work, in millimetres and in inches."""

    size: str
    metric: str
    us: str
    share: float = 1.0


@dataclass(frozen=True)
class Live:
    """Work of today, in minutes before now; without an end it is in hand."""

    begin: int
    end: int | None = None
    spread: int | None = None
    clamped: int | None = None
    tended: tuple[tuple[str, int], ...] = ()


@dataclass(frozen=True)
class Step:
    """One operation. `real` are the minutes it took, none where it is still to come.

    `after` names steps, or a stage of one: "glue: out of clamps". `days` pass before it is begun. `early` is the reason
    for beginning before the wait is over, `given_up` the one for abandoning it. `ended` asks that its wait ends so many
    hours from now, with what is waited for: dry glue lines, or light use.
    """

    key: str
    name: str
    kind: str
    minutes: int
    real: int | None = None
    after: tuple[str, ...] = ()
    group: str = ""
    product: str = ""
    over: str = ""
    holds: tuple[tuple[str, int], ...] = ()
    own: tuple[tuple[str, float], ...] = ()
    count: int = 1
    by: str = OWNER
    low: int | None = None
    high: int | None = None
    assembly: int | None = None
    days: float = 0.0
    notes: tuple[Note, ...] = ()
    shots: tuple[Shot, ...] = ()
    measured: tuple[Measured, ...] = ()
    live: Live | None = None
    ended: float | None = None
    early: str = ""
    tacky: bool = False
    given_up: str = ""
    again_for: str = ""
    remembered: bool = False


@dataclass(frozen=True)
class Amount:
    """How much was billed, in the yard's own unit, and what one costs."""

    quantity: str
    unit: str
    price: str

    @property
    def numbers(self) -> tuple[Decimal, Decimal]:
        return Decimal(self.quantity), Decimal(self.price)


@dataclass(frozen=True)
class Moisture:
    """What the meter showed so many days after a piece was begun, of the shop's own wood before now; at °C."""

    days: float
    shows: float
    celsius: float = 20.0
    place: str = ""


@dataclass(frozen=True)
class Bill:
    """One line of a bill, as billed where one buys by the metre and where by the foot."""

    kind: str
    name: str
    metric: Amount
    us: Amount | None = None
    supplier: str = ""
    days: float = -3.0
    sizes: tuple[str, str] = ("", "")
    pieces: int | None = None
    read: tuple[Moisture, ...] = ()

    def amount(self, unit: str) -> Amount:
        return self.us if self.us and unit == US else self.metric


@dataclass(frozen=True)
class Leeway:
    """What a part needs room for, and the lengths that are asked for it, in millimetres and in inches."""

    kind: str
    metric: str
    us: str


@dataclass(frozen=True)
class Look:
    """What was found at a watch point so many days before now."""

    ago: float
    metric: str
    us: str
    note: str


@dataclass(frozen=True)
class Watch:
    """A width that is looked at after delivery: what it measured then, at which moisture, and what was found since."""

    name: str
    metric: str
    us: str
    moisture: float
    looks: tuple[Look, ...] = ()


@dataclass(frozen=True)
class Cut:
    """A part: how many, how it is sawn, and its thickness, width and length in millimetres and in inches."""

    name: str
    count: int
    metric: str
    us: str
    note: str = ""
    sawn: str = FLAT
    read: tuple[Moisture, ...] = ()
    needs: tuple[Leeway, ...] = ()
    watches: tuple[Watch, ...] = ()

    def sizes(self, unit: str) -> list[str]:
        return (self.us if unit == US else self.metric).split(" x ")


@dataclass(frozen=True)
class Size:
    """A length of the piece: what it should be and may be off, in millimetres and in inches; what it goes into."""

    name: str
    part: str
    metric: str
    us: str
    off: tuple[str, str]
    into: str = ""
    fit: str = ""


@dataclass(frozen=True)
class House:
    """The air of the house a piece goes to, °C and % humidity, in its dry season and in its damp one."""

    dry: tuple[float, float]
    damp: tuple[float, float]


@dataclass(frozen=True)
class Stage:
    """A part of the price: its share, and how many days after the beginning (or the delivery) it came in."""

    name: str
    percent: int
    paid: float | None = None
    from_delivery: bool = False


@dataclass(frozen=True)
class Piece:
    """A build. `begun` and `due` are days before and after now; or it was promised for `due_after` days after begun."""

    key: str
    name: str
    wood: str
    status: str
    begun: float
    client: str = ""
    contact: str = ""
    note: str = ""
    due: float | None = None
    due_after: float | None = None
    price: int | None = None
    consumables: int = 6
    steps: tuple[Step, ...] = ()
    cuts: tuple[Cut, ...] = ()
    sizes: tuple[Size, ...] = ()
    house: House | None = None
    bills: tuple[Bill, ...] = ()
    stages: tuple[Stage, ...] = ()
    notes: tuple[Note, ...] = ()  # of the piece as a whole, at its beginning; `share` are days
    shots: tuple[Shot, ...] = ()
    hand_over: tuple[tuple[str, str], ...] = ()
    weight: int = 1
    pace: float = 0.8  # days that other work takes between two steps
