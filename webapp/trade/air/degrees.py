"""Temperatures and steps of temperature as a maker reads them, in the scale of the shop."""


def degrees(celsius: float, unit: str) -> str:
    """Return a temperature as a maker reads it.

    Takes:   °C; the unit to show it in, C or F.
    Returns: a figure to a tenth, with its unit.
    Raises:  nothing.
    Source:  °F = 1.8 °C + 32.

    >>> degrees(12.7777778, "F"), degrees(-2.04, "C"), degrees(-0.01, "C")
    ('55 °F', '−2 °C', '0 °C')
    """
    return f"{_short(celsius * 9 / 5 + 32 if unit == 'F' else celsius, 1)} °{unit}"


def difference(celsius: float, unit: str, places: int = 1) -> str:
    """Return a difference of temperatures as a maker reads it.

    Takes:   °C; the unit to show it in, C or F; how many decimals at most.
    Returns: a figure without needless noughts, with its unit.
    Raises:  nothing.
    Source:  1 °C is 1.8 °F.

    >>> difference(11.111111, "F"), difference(2.786, "C", 2)
    ('20 °F', '2.79 °C')
    """
    return f"{_short(celsius * 9 / 5 if unit == 'F' else celsius, places)} °{unit}"


def _short(figure: float, places: int) -> str:
    text = f"{figure:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.replace("-", "−")
