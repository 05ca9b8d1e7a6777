"""What cold and damp do to a figure: the rule of each stage, and where the figure cannot be trusted.

A glue's setting slows by a known rule; water leaving a glue line, oil, varnish and a waterborne film follow none that
anybody gives. Where there is none the hours of the label may not be printed as if they held: under about 65 °F, or in
air damper than the finish stands, they are too short by nobody knows how much, and the answer is to warm the room and
to test before going on.

Not modelled: draught, and the temperature of the wood itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

NO_RULE = "no known rule: test it"
WARM_ENOUGH = 18.3333  # 65 °F
COLD = "cold"
DAMP = "damp"


class StageError(ValueError):
    """A stage that the figures do not have; the text says which."""


@dataclass(frozen=True, slots=True)
class Rule:
    """What cold does to one stage: `doubles_per` °C colder it takes twice as long; None: nobody knows."""

    stage: str
    doubles_per: float | None

    @property
    def says(self) -> str:
        """Return the rule in words, without its number, which a page gives in the shop's degrees."""
        return "twice as long when colder" if self.doubles_per else NO_RULE


def rules(figures: Mapping[str, Any]) -> tuple[Rule, ...]:
    """Return what cold does to each stage.

    Takes:   the figures of a product of the shop document, °C.
    Returns: one Rule for each stage, in their order: its own where it has one, else the product's.
    Raises:  nothing.
    Source:  the shop document, rule 3; which stages have none: as said above.

    >>> figures = {"doubles_per": 8, "stages": [{"name": "dry", "hours": 1}, {"name": "aired", "doubles_per": None}]}
    >>> [rule.says for rule in rules(figures)]
    ['twice as long when colder', 'no known rule: test it']
    """
    own = figures.get("doubles_per")
    return tuple(Rule(stage["name"], stage.get("doubles_per", own)) for stage in figures.get("stages", ()))


def doubts(
    figures: Mapping[str, Any], stage: str | None, celsius: float, humidity: float | None = None
) -> tuple[str, ...]:
    """Return why a figure cannot be trusted in this air.

    Takes:   the figures of a product, °C; a stage, or None for the wait to the next layer; the air's °C; its % RH.
    Returns: of "cold" and "damp" those that hold; none where the figure holds, or has a rule for the cold.
    Raises:  StageError when there is no such stage.
    Source:  65 °F and up: woodmagazine.com/woodworking-how-to/finishes-finishing/working-around-the-weather; how damp:
             the product's own figure.

    >>> doubts({"stages": [], "recoat": [{"from_hours": 2}], "humidity_max": 80}, None, 14.4, 85)
    ('cold', 'damp')
    """
    known = {rule.stage: rule.doubles_per for rule in rules(figures)} | {None: figures.get("doubles_per")}
    if stage not in known:
        raise StageError(f"There is no stage “{stage}” in these figures.")
    most = figures.get("humidity_max")
    found = [COLD] if known[stage] is None and celsius < WARM_ENOUGH else []
    return (*found, *([DAMP] if most is not None and humidity is not None and humidity > most else []))
