"""What moisture wood comes to in a given air, and whether boards are near enough to it to be milled.

Moisture is in percent of the dry weight. The equation is an average of many species; a board may differ by a point.

Not modelled: how long a board takes to get there, wood that was wetter before (it stays a little wetter), heat-treated
wood, finish.
"""

from dataclasses import dataclass
from typing import NamedTuple

from webapp.trade.air.dew import to_fahrenheit


class MoistureError(ValueError):
    """A moisture, temperature or humidity that cannot be used; the text says what can."""


class _Term(NamedTuple):
    """A coefficient that follows the temperature: constant, per degree, per degree squared."""

    constant: float
    linear: float
    square: float

    def at(self, temperature: float) -> float:
        return self.constant + self.linear * temperature + self.square * temperature**2


class _Equation(NamedTuple):
    w: _Term
    k: _Term
    k1: _Term
    k2: _Term


# Wood Handbook FPL-GTR-190 ch. 4, eq. 4-5. The °C set was read, the °F set is from memory; each is for its own degrees.
EQUATIONS = {
    "C": _Equation(
        w=_Term(349, 1.29, 0.0135),
        k=_Term(0.805, 0.000736, -0.00000273),
        k1=_Term(6.27, -0.00938, -0.000303),
        k2=_Term(1.91, 0.0407, -0.000293),
    ),
    "F": _Equation(
        w=_Term(330, 0.452, 0.00415),
        k=_Term(0.791, 0.000463, -0.000000844),
        k1=_Term(6.34, 0.000775, -0.0000935),
        k2=_Term(1.09, 0.0284, -0.0000904),
    ),
}
TEMPERATURES = {"C": (-10 / 9, 60.0), "F": (30.0, 140.0)}  # what the table was compared over
HUMIDITIES = (5.0, 95.0)
NEAR = 2.0  # points: a house rule in use, common practice
TYPED_PLACES = 3  # of a temperature
SHOWN = 6  # decimals that count: what binary fractions are off by does not


@dataclass(frozen=True, slots=True)
class Milling:
    """A reading against the shop's own stock, in %: `apart` is how many points wetter the board is, under 0 drier."""

    reading: float
    stock: float
    within: float
    apart: float
    may: bool

    def says(self) -> str:
        """Return the sentence for a maker."""
        over = "over" if self.apart >= 0 else "under"
        points = "point" if abs(self.apart) == 1 else "points"
        found = f"{self.reading:g} % is {abs(self.apart):g} {points} {over} the shop's {self.stock:g} %"
        if self.may:
            return f"{found}: near enough to mill."
        sign, word = (1, "less") if self.apart > 0 else (-1, "more")
        return f"{found}: wait until it reads {round(self.stock + sign * self.within, SHOWN):g} % or {word}."


@dataclass(frozen=True, slots=True)
class Resawing:
    """Boards on their way to the shop's moisture, in %: what skin and core may have, and whether they may be resawn."""

    skin: float
    core: float
    may: bool

    def says(self) -> str:
        """Return the sentence for a maker."""
        if self.may:
            return "Skin and core are near enough to each other to resaw."
        return (
            f"The skin may be near {self.skin:.3g} % and the core still near {self.core:.3g} %: resawn now, the halves "
            "cup. Wait, or saw well oversize and let the halves rest on stickers."
        )


def equilibrium(temperature: float, humidity: float, unit: str) -> float:
    """Return the moisture that wood comes to when it lies long enough in this air.

    Takes:   the temperature in the unit named, 30 to 140 °F or −1.1 to 60 °C; humidity in %, from 5 to 95; C or F. Each
             unit has coefficients of its own: nothing is converted, and room temperature in °F is refused as °C.
    Returns: % moisture.
    Raises:  MoistureError outside these ranges, or for another unit.
    Source:  Wood Handbook FPL-GTR-190 (2010) ch. 4, eq. 4-5; °C coefficients read in an open library that cites
             FPL-RN-0268, °F coefficients from memory. Within 0.1 of all 228 cells of Table 4-2 (from memory).

    >>> round(equilibrium(20, 50, "C"), 2), round(equilibrium(68, 50, "F"), 2)
    (9.27, 9.28)
    """
    _check_air(temperature, humidity, unit)
    w, k, k1, k2 = (term.at(temperature) for term in EQUATIONS[unit])
    kh = k * humidity / 100
    first, second = k1 * kh, k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + (first + 2 * second) / (1 + first + second))


def milling(reading: float, stock: float, within: float = NEAR) -> Milling:
    """Return whether a board is near enough to the moisture of the shop to be milled.

    Takes:   what the board reads (corrected, where the meter has a table) and what the shop's own stock reads, in %;
             how many points apart still do.
    Returns: a Milling; just that many points still do, wetter or drier.
    Raises:  MoistureError for a moisture outside 0 to 100 %, or for fewer than 0 points.
    Source:  a makers' forum, https://forums.woodnet.net/showthread.php?tid=7365751 (weak); a house rule to be changed.

    >>> milling(10.6, 8).says()
    "10.6 % is 2.6 points over the shop's 8 %: wait until it reads 10 % or less."
    >>> milling(9.9, 8).says()
    "9.9 % is 1.9 points over the shop's 8 %: near enough to mill."
    """
    check_moisture(reading, stock)
    if not 0 <= within <= 100:
        raise MoistureError("Write how many points apart still do, from 0.")
    apart = round(reading - stock, SHOWN)
    return Milling(reading, stock, within, apart, abs(apart) <= within)


def resawing(first: float, latest: float, stock: float, within: float = NEAR) -> Resawing:
    """Return whether boards that dry in the shop may be sawn apart in their thickness.

    Takes:   their reading when they came, their latest, and the shop's own stock, in %; how many points apart still do.
    Returns: a Resawing: until the latest reading is near the stock, the skin may have the stock's moisture already and
             the core still what it came with.
    Raises:  MoistureError as `milling`.
    Source:  https://www.woodweb.com/knowledge_base/Casehardening_Checking_and_Warping.html ; thick stock dries from the
             outside in. The limit is the house rule of `milling`.

    >>> resawing(12, 10.6, 8).may, resawing(12, 9.9, 8).may
    (False, True)
    """
    check_moisture(first)
    return Resawing(stock, first, milling(latest, stock, within).may)


def degrees_in(celsius: float, unit: str) -> float:
    """Return a temperature in the unit of a meter's table or of the equation of `equilibrium`.

    Takes:   °C; C or F.
    Returns: the temperature in that unit, to three places: one typed in °F and kept in °C is the typed one again.
    Raises:  AirError for what is not a finite number.
    Source:  `trade/air/dew.py`; three places are common practice, no source.

    >>> degrees_in(37.7778, "F"), degrees_in(20, "C")
    (100.0, 20)
    """
    return round(to_fahrenheit(celsius) if unit == "F" else celsius, TYPED_PLACES)


def check_moisture(*moistures: float) -> None:
    """Raise MoistureError unless each moisture can be one.

    Takes:   %.
    Returns: nothing.
    Raises:  MoistureError outside 0 to 100 %.
    Source:  common practice, no source: no meter for wood shows more.

    >>> check_moisture(8.5)
    """
    if not all(0 <= moisture <= 100 for moisture in moistures):
        raise MoistureError("Write the moisture as the meter shows it, from 0 to 100 %.")


def _check_air(temperature: float, humidity: float, unit: str) -> None:
    if unit not in EQUATIONS:
        raise MoistureError("Say whether the temperature is in C or F.")
    coldest, warmest = TEMPERATURES[unit]
    if not coldest <= temperature <= warmest:
        known = "−1 to 60 °C" if unit == "C" else "30 to 140 °F"
        raise MoistureError(f"Moisture of wood is known here from {known}. Check the temperature and its unit.")
    driest, dampest = HUMIDITIES
    if not driest <= humidity <= dampest:
        raise MoistureError(f"Moisture of wood is known here from {driest:g} to {dampest:g} % humidity.")
