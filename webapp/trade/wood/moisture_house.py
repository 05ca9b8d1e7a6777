"""What moisture a piece should have for the place it goes to, and between which ends it will swing there.

The handbook's figures are for the United States; elsewhere, and better everywhere, a hygrometer read in the dry and in
the damp season says it (`house`).

Not modelled: single rooms (over a stove, against an outer wall), the months between the two ends.
"""

from dataclasses import dataclass

from webapp.trade.sources import MEMORY, READ
from webapp.trade.wood.moisture import MoistureError, check_moisture, equilibrium

MEASURED = "measured"
INSTALLED = "Wood Handbook FPL-GTR-190 (2010) ch. 13, Table 13-2"


@dataclass(frozen=True, slots=True)
class Target:
    """The moisture wood should have, in %: single pieces from `low` to `high`, and their average where one is given."""

    place: str
    low: float
    high: float
    average: float | None
    source: str
    how: str

    def holds(self, moisture: float) -> bool:
        """Return whether a moisture in % lies within."""
        return self.low <= moisture <= self.high

    @property
    def says(self) -> str:
        """Return its two ends in words, to a tenth."""
        low, high = (f"{end:.1f}".removesuffix(".0") for end in (self.low, self.high))
        return f"{low} to {high} %"


FURNITURE = Target(
    "lumber for furniture and cabinets",
    6,
    8,
    None,
    "Wood Handbook FPL-GTR-190 (2010) ch. 13, https://issuhub.com/view/index?id=5801&pageIndex=304",
    READ,
)
GLUING = Target(
    "furniture lumber when it is glued, for dry rooms", 6, 7, None, "Wood Handbook FPL-GTR-190 (2010) ch. 10", MEMORY
)
INDOORS = (
    Target("indoors, most of the United States", 6, 10, 8, INSTALLED, MEMORY),
    Target("indoors, dry Southwest", 4, 9, 6, INSTALLED, MEMORY),
    Target("indoors, damp warm coast", 8, 13, 11, INSTALLED, MEMORY),
)
OUTDOORS = (
    Target("outdoor siding and trim, most of the United States", 9, 14, 12, INSTALLED, MEMORY),
    Target("outdoor siding and trim, dry Southwest", 7, 12, 9, INSTALLED, MEMORY),
    Target("outdoor siding and trim, damp warm coast", 9, 14, 12, INSTALLED, MEMORY),
)
TARGETS = (FURNITURE, GLUING, *INDOORS, *OUTDOORS)


def target(place: str) -> Target | None:
    """Return the target for a place, or None where it is not in the list.

    Takes:   the place as in TARGETS.
    Returns: a Target with its source and how it is known.
    Raises:  nothing.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, Table 13-2 (from memory; the averages 8, 6 and 11 % were read
             second-hand in a makers' forum).

    >>> target("indoors, dry Southwest").average, target("on the moon")
    (6, None)
    """
    return next((one for one in TARGETS if one.place == place), None)


def house(dry: tuple[float, float], damp: tuple[float, float], unit: str) -> Target:
    """Return the target for a house whose air was measured in its dry and its damp season.

    Takes:   temperature and humidity (%) in the dry season and in the damp one; C or F.
    Returns: a Target between the two moistures that wood comes to, its average halfway.
    Raises:  MoistureError outside the ranges of `equilibrium`, or when the dry season is the damper one.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 4, eq. 4-5; halfway between the ends: Forest Products
             Laboratory report 1655 (1955), https://studylib.net/doc/13624631 (read).

    >>> measured = house((70, 30), (75, 60), "F")
    >>> round(measured.low, 1), round(measured.high, 1), round(measured.average, 1)
    (6.2, 10.9, 8.5)
    """
    low, high = ends(equilibrium(*dry, unit), equilibrium(*damp, unit))
    return Target("by hygrometer", low, high, (low + high) / 2, "Wood Handbook FPL-GTR-190 ch. 4, eq. 4-5", MEASURED)


def ends(low: float, high: float) -> tuple[float, float]:
    """Return the two ends between which wood swings over the year, where they can be so.

    Takes:   % moisture in the dry season and in the damp one.
    Returns: both as they were given.
    Raises:  MoistureError when the dry season is the damper one.
    Source:  plain arithmetic.

    >>> ends(6, 12)
    (6, 12)
    """
    if low > high:
        raise MoistureError("Wood comes out drier in the damp season than in the dry one. Change the two round.")
    return low, high


def off_target(moisture: float, wanted: Target) -> float:
    """Return how far a moisture is from a target.

    Takes:   % moisture; the Target.
    Returns: points over its upper end, under 0 for points under its lower end, 0 within.
    Raises:  MoistureError for a moisture outside 0 to 100 %.
    Source:  plain arithmetic.

    >>> off_target(9.5, FURNITURE), off_target(7, FURNITURE), off_target(5, FURNITURE)
    (1.5, 0.0, -1.0)
    """
    check_moisture(moisture)
    return round(max(0.0, moisture - wanted.high) + min(0.0, moisture - wanted.low), 6)
