"""The air of a room: temperature in both scales, how much water it can hold, and where that water comes out.

Humidity is relative, in percent over water, as hygrometers show it. The Magnus form is within 0.05 °C of the longer
formulas for dew points from 0 to 45 °C; it is for water, not ice.

Not modelled: wet-bulb temperature, height above the sea (it hardly moves a dew point), frost.
"""

from fractions import Fraction
from math import exp, log

# Magnus form over water, coefficients of the WMO (WMO-No. 8): hPa, none, °C
MAGNUS_AT_ZERO = 6.112
MAGNUS_SLOPE = 17.62
MAGNUS_OFFSET = 243.12
COLDEST, WARMEST = -45.0, 60.0  # °C, where these coefficients hold
DRIEST, DAMPEST = 1.0, 100.0  # %


class AirError(ValueError):
    """A temperature or humidity that cannot be used; the text says what can."""


def to_fahrenheit(celsius: float) -> float:
    """Return a temperature in °F.

    Takes:   °C.
    Returns: °F, exact for the figure as it is written (12.8 is 55.04).
    Raises:  AirError for what is not a finite number.
    Source:  NIST SP 811 App. B (t/°F = 1.8 t/°C + 32).

    >>> to_fahrenheit(12.8), to_fahrenheit(20)
    (55.04, 68.0)
    """
    return float(_exact(celsius) * 9 / 5 + 32)


def to_celsius(fahrenheit: float) -> float:
    """Return a temperature in °C.

    Takes:   °F.
    Returns: °C, the nearest number to the exact one.
    Raises:  AirError for what is not a finite number.
    Source:  NIST SP 811 App. B (t/°C = (t/°F − 32)/1.8).

    >>> to_celsius(50), to_celsius(55.04)
    (10.0, 12.8)
    """
    return float((_exact(fahrenheit) - 32) * 5 / 9)


def saturation_pressure(celsius: float) -> float:
    """Return the pressure of the water vapour in air that can hold no more.

    Takes:   °C, from −45 to 60.
    Returns: hPa.
    Raises:  AirError outside that range.
    Source:  Magnus form with the coefficients of WMO-No. 8 (6.112, 17.62, 243.12), read in the pages of a solar energy
             library; 0.3 % under the 2017 ASHRAE Handbook, ch. 1 Table 3, at 25 °C.

    >>> round(saturation_pressure(25), 2)
    31.6
    """
    _check_temperature(celsius)
    return MAGNUS_AT_ZERO * exp(_magnus(celsius))


def dew_point(celsius: float, humidity: float) -> float:
    """Return the temperature at which the water of this air comes out on a surface.

    Takes:   °C, from −45 to 60; humidity in %, from 1 to 100.
    Returns: °C, never over the temperature of the air.
    Raises:  AirError outside these ranges.
    Source:  Magnus form with the coefficients of WMO-No. 8; 6.71 °C at 10 °C and 80 % is published.

    >>> round(dew_point(10, 80), 2), dew_point(21, 100)
    (6.71, 21)
    """
    _check_temperature(celsius)
    _check_humidity(humidity)
    share = log(humidity / 100) + _magnus(celsius)
    return min(celsius, MAGNUS_OFFSET * share / (MAGNUS_SLOPE - share))


def humidity_at(celsius: float, humidity: float, other: float) -> float:
    """Return the humidity of the same air at another temperature: the room warmed, or the skin of a cold board.

    Takes:   °C and humidity in % as they are now; the other temperature in °C, from −45 to 60.
    Returns: %, at most 100: what is more comes out as dew.
    Raises:  AirError outside these ranges.
    Source:  the water stays the same, so the humidity goes as the saturation pressures (Magnus form, WMO-No. 8).

    >>> round(humidity_at(14.4, 85, 18.3)), humidity_at(20, 65, 10)
    (66, 100.0)
    """
    _check_humidity(humidity)
    return min(DAMPEST, humidity * saturation_pressure(celsius) / saturation_pressure(other))


def _magnus(celsius: float) -> float:
    return MAGNUS_SLOPE * celsius / (MAGNUS_OFFSET + celsius)


def _exact(temperature: float) -> Fraction:
    try:
        return Fraction(str(temperature))
    except ValueError:
        raise AirError("Write a temperature, such as 20.") from None


def _check_temperature(celsius: float) -> None:
    if not COLDEST <= celsius <= WARMEST:
        known = f"{COLDEST:g} to {WARMEST:g} °C (−49 to 140 °F)".replace("-", "−")
        raise AirError(f"Dew points are known from {known}. Check the temperature and its unit.")


def _check_humidity(humidity: float) -> None:
    if not DRIEST <= humidity <= DAMPEST:
        raise AirError(f"Humidity goes from {DRIEST:g} to {DAMPEST:g} %. Read the hygrometer again.")
