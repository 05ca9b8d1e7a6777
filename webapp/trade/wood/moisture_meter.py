"""A moisture meter and the tables of its manual, as a maker typed them.

Manuals differ by a factor of two for the same cold board, so there is no table for all meters.

Not modelled: meters that put their readings right themselves (they need no table), frozen wood.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite

from webapp.trade.wood.moisture import MoistureError


@dataclass(frozen=True, slots=True)
class Point:
    """One line of a table: what to add to a reading. Without a `reading` it is for any."""

    add: float
    reading: float | None = None


@dataclass(frozen=True, slots=True)
class WarmthPoint:
    """One line of the table by temperature of the wood, in the meter's own unit."""

    temperature: float
    point: Point


@dataclass(frozen=True, slots=True)
class SpeciesPoint:
    """One line of the table by species, in the manual's own words for it."""

    species: str
    point: Point


@dataclass(frozen=True, slots=True)
class Meter:
    """A meter and the tables of its manual.

    `unit` is C or F, of its temperatures. Most manuals put the temperature right first; some the species.
    Raises MoistureError for a table that contradicts itself.
    """

    name: str
    unit: str
    by_temperature: tuple[WarmthPoint, ...] = ()
    by_species: tuple[SpeciesPoint, ...] = ()
    species_first: bool = False

    def __post_init__(self) -> None:
        if self.unit not in ("C", "F"):
            raise MoistureError("Say whether the meter's table is in C or F.")
        if not all(isfinite(line.temperature) for line in self.by_temperature):
            raise MoistureError(f"The table of {self.name} has a line without a temperature.")
        for temperature in self.temperatures:
            _check_points(self.name, self.at(temperature))
        for species in self.species:
            _check_points(self.name, self.of(species))

    @property
    def temperatures(self) -> tuple[float, ...]:
        """The temperatures of the table, coldest first."""
        return tuple(sorted({line.temperature for line in self.by_temperature}))

    @property
    def species(self) -> tuple[str, ...]:
        """The species of the table, in the order typed."""
        return tuple(dict.fromkeys(line.species for line in self.by_species))

    def at(self, temperature: float) -> list[Point]:
        """Return the points for a temperature of the table."""
        return [line.point for line in self.by_temperature if line.temperature == temperature]

    def of(self, species: str) -> list[Point]:
        """Return the points for a species of the table."""
        return [line.point for line in self.by_species if line.species == species]


def handbook_rule(calibrated: float = 68) -> Meter:
    """Return the handbook's rough rule as a table, for a pin meter whose own is lost.

    Takes:   the temperature in °F the meter was made for, from 32 to 122.
    Returns: a Meter that adds 0.5 for each 10 °F colder and takes off as much for each 10 °F warmer, 32 to 122 °F.
    Raises:  MoistureError outside that range.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 13, read; manuals of pin meters go up to twice as far.

    >>> from webapp.trade.wood.moisture_reading import corrected
    >>> corrected(15, handbook_rule(), celsius=10, species=None).moisture
    15.9
    """
    if not 32 <= calibrated <= 122:
        raise MoistureError("Write the temperature the meter was made for, from 32 to 122 °F.")
    lines = tuple(WarmthPoint(at, Point(add=(calibrated - at) / 20)) for at in (32.0, 122.0))
    return Meter("the Wood Handbook's rough rule", "F", lines)


def _check_points(name: str, points: Iterable[Point]) -> None:
    """All lines for one temperature or species: one for any reading, or one for each reading."""
    kept = list(points)
    if not all(isfinite(point.add) and isfinite(point.reading or 0) for point in kept):
        raise MoistureError(f"The table of {name} has a line without a number.")
    readings = [point.reading for point in kept]
    if len(set(readings)) < len(readings) or (None in readings and len(readings) > 1):
        raise MoistureError(f"The table of {name} says two things for one reading. Leave one of the lines out.")
