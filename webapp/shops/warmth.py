"""How warm the air of a shop can be. A figure outside is a slip of the finger, the other unit, or a broken sensor."""

COLDEST, WARMEST = -40.0, 50.0  # °C; broken thermometers send 85 or -127


def in_unit(celsius: float, unit: str) -> float:
    """Return a temperature in C or F, to a tenth.

    >>> in_unit(14.5, "C"), in_unit(14.5, "F")
    (14.5, 58.1)
    """
    return round(celsius * 9 / 5 + 32 if unit == "F" else celsius, 1)


def is_wrong(celsius: float) -> bool:
    return not COLDEST <= celsius <= WARMEST


def range_in(unit: str) -> str:
    """Return what to say of a temperature that is wrong.

    >>> range_in("F")
    'From -40 to 122 °F, please.'
    """
    return f"From {in_unit(COLDEST, unit):g} to {in_unit(WARMEST, unit):g} °{unit}, please."
