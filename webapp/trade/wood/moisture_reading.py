"""A moisture reading put right by the meter's own table.

What was read is always kept beside what was made of it, with the table that was used. Between two points the table is
taken as a straight line; outside it nothing is put right, and it says why.

Not modelled: what the finish, the glue line or salts in the wood do to a reading.
"""

from dataclasses import dataclass

from webapp.trade.wood.moisture import SHOWN, check_moisture, degrees_in
from webapp.trade.wood.moisture_meter import Meter, Point


@dataclass(frozen=True, slots=True)
class Corrected:
    """A reading as it was and as it was put right, in %, with what was added and by which meter's table.

    `moisture` is None, and `why_not` says why, where the table does not tell: half put right would pass for right.
    """

    reading: float
    moisture: float | None
    for_temperature: float | None
    for_species: float | None
    table: str
    why_not: str

    def says(self) -> str:
        """Return the sentence for a maker."""
        if self.moisture is None:
            return f"{self.reading:g} % as read. {self.why_not}"
        return f"{self.moisture:g} % by the table of {self.table}; {self.reading:g} % as read."


def corrected(reading: float, meter: Meter | None, celsius: float | None, species: str | None) -> Corrected:
    """Return a reading put right for the temperature and the species of the wood by the meter's own table.

    Takes:   what the meter showed, in %; the Meter, None where it has no table; the temperature of the wood in °C and
             the species as the table names it, None where unknown.
    Returns: a Corrected, which always keeps the reading. A table the meter does not have is not asked.
    Raises:  MoistureError for a reading outside 0 to 100 %.
    Source:  the meter's manual, typed by the maker; linear between its points. Temperature before species: ASTM D4444
             (from memory).

    >>> from webapp.trade.wood.moisture_meter import Meter, Point, WarmthPoint
    >>> table = (WarmthPoint(50, Point(add=2)), WarmthPoint(68, Point(add=0)))
    >>> corrected(15, Meter("the pin meter", "F", table), celsius=10, species=None).says()
    '17 % by the table of the pin meter; 15 % as read.'
    >>> corrected(15, Meter("the pin meter", "F", table), celsius=0, species=None).says()
    '15 % as read. The table of the pin meter goes from 50 to 68 °F; the wood has 32 °F.'
    """
    check_moisture(reading)
    if meter is None or not (meter.by_temperature or meter.by_species):
        return Corrected(reading, None, None, None, "", "This meter has no table; type the one of its manual.")
    try:
        warm, kind = _added(reading, meter, celsius, species)
    except _NotToldError as why:
        return Corrected(reading, None, None, None, meter.name, str(why))
    moisture = round(reading + (warm or 0) + (kind or 0), SHOWN)
    if moisture < 0:
        return Corrected(reading, None, None, None, meter.name, f"The table of {meter.name} brings it under 0 %.")
    return Corrected(reading, moisture, warm, kind, meter.name, "")


class _NotToldError(Exception):
    """The table does not tell; the text says what it lacks."""


def _added(
    reading: float, meter: Meter, celsius: float | None, species: str | None
) -> tuple[float | None, float | None]:
    if meter.species_first:
        kind = _for_species(reading, meter, species)
        return _for_temperature(reading + (kind or 0), meter, celsius), kind
    warm = _for_temperature(reading, meter, celsius)
    return warm, _for_species(reading + (warm or 0), meter, species)


def _for_temperature(reading: float, meter: Meter, celsius: float | None) -> float | None:
    if not meter.by_temperature:
        return None
    if celsius is None:
        raise _NotToldError(f"The table of {meter.name} wants the temperature of the wood.")
    wood = degrees_in(celsius, meter.unit)
    low, high = meter.temperatures[0], meter.temperatures[-1]
    if not low <= wood <= high:
        span = f"{low:g} to {high:g} °{meter.unit}"
        raise _NotToldError(f"The table of {meter.name} goes from {span}; the wood has {wood:g} °{meter.unit}.")
    below = max(at for at in meter.temperatures if at <= wood)
    above = min(at for at in meter.temperatures if at >= wood)
    colder, warmer = (_at_reading(reading, meter.at(at), meter.name) for at in (below, above))
    return round(_between(wood, below, colder, above, warmer), SHOWN)


def _for_species(reading: float, meter: Meter, species: str | None) -> float | None:
    if not meter.by_species:
        return None
    if species is None or species not in meter.species:
        raise _NotToldError(f"The table of {meter.name} wants one of its species: {', '.join(meter.species)}.")
    return round(_at_reading(reading, meter.of(species), meter.name), SHOWN)


def _at_reading(reading: float, points: list[Point], name: str) -> float:
    if points[0].reading is None:
        return points[0].add
    readings = sorted((point.reading, point.add) for point in points if point.reading is not None)
    low, high = readings[0][0], readings[-1][0]
    if not low <= reading <= high:
        raise _NotToldError(f"The table of {name} goes from {low:g} to {high:g} % here; {reading:g} % is outside.")
    below = max(line for line in readings if line[0] <= reading)
    above = min(line for line in readings if line[0] >= reading)
    return _between(reading, *below, *above)


def _between(at: float, low: float, add_low: float, high: float, add_high: float) -> float:
    return add_low if low == high else add_low + (add_high - add_low) * (at - low) / (high - low)
