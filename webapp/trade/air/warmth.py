"""From which warmth on the figures of a label hold where nobody gives a rule for the cold.

A glue's setting slows by a known rule; water leaving a glue line, oil, varnish and a waterborne film follow none that
anybody gives. Under about 65 °F their hours are too short by nobody knows how much, and the answer is to warm the room
and to test before going on.

Not modelled: draught, and the temperature of the wood itself.
"""

from webapp.trade.air.degrees import degrees
from webapp.trade.air.pace import LOOSE

WARM_ENOUGH = 18.3333  # 65 °F
NEAR = 1.0  # °C: closer to a label's temperature is as good as it


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


def is_colder(celsius: float | None, rated: float) -> bool:
    """Return whether it is colder than the temperature of a label by so much that it is worth a word.

    Takes:   °C; None where it is not known; the temperature that the label's times are for, °C.
    Returns: True where it is NEAR or more under that.
    Raises:  nothing.
    Source:  common practice, no source.

    >>> is_colder(20.6, 21.1111), is_colder(20.0, 21.1111), is_colder(None, 21.1111)
    (False, True, False)
    """
    return celsius is not None and celsius <= rated - NEAR + LOOSE


def cold_says(celsius: float, unit: str) -> str:
    """Return what is said of work where it is colder than a label means that gives no rule for it.

    Takes:   °C; the unit of the shop, C or F.
    Returns: two sentences.
    Raises:  nothing.
    Source:  as `is_cold`.

    >>> cold_says(4.4444, "F")[:22]
    '40 °F is cold for it. '
    """
    return (
        f"{degrees(celsius, unit)} is cold for it. It takes longer than the label says, and no rule is known for how"
        f" much: warm the room to {degrees(WARM_ENOUGH, unit)} and up, and test before you go on."
    )
