"""From which warmth on the figures of a label hold where nobody gives a rule for the cold.

A glue's setting slows by a known rule; water leaving a glue line, oil, varnish and a waterborne film follow none that
anybody gives. Under about 65 °F their hours are too short by nobody knows how much, and the answer is to warm the room
and to test before going on.

Not modelled: draught, and the temperature of the wood itself.
"""

WARM_ENOUGH = 18.3333  # 65 °F


def is_cold(celsius: float | None) -> bool:
    """Return whether it is colder than a label means that says nothing of the cold.

    Takes:   °C; None where it is not known.
    Returns: True under WARM_ENOUGH; False where nobody knows.
    Raises:  nothing.
    Source:  65 °F and up: woodmagazine.com/woodworking-how-to/finishes-finishing/working-around-the-weather.

    >>> is_cold(14.4), is_cold(WARM_ENOUGH), is_cold(None)
    (True, False, False)
    """
    return celsius is not None and celsius < WARM_ENOUGH
