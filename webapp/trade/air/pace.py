"""How fast a wait runs: what a minute at some temperature counts for.

Each wait has its own rule. Glue that sets follows the trade's doubling; water that leaves a glue line, oil, and a
waterborne film do not, and nobody has put their rule in figures: `has_rule` is false, and whoever shows such a wait in
the cold says so and asks for a test.

Not modelled: humidity, moving air, thick films.
"""

from dataclasses import dataclass

LOOSE = 1e-6  # degrees that do not count: what a change of units is off by
_MOST_DOUBLINGS = 60.0  # beyond, it is at once


@dataclass(frozen=True, slots=True)
class Pace:
    """How fast a wait runs against the label.

    `rated_at`: °C that the figures are for; `doubles_per`: so many °C colder, twice as long (None: no rule known).
    Warmer is never faster, unless `faster_when_warm`: then half as long per `faster_per` (None: as `doubles_per`).
    `counts_above`: hours under that many °C do not count at all.
    """

    rated_at: float | None = None
    doubles_per: float | None = None
    faster_when_warm: bool = False
    faster_per: float | None = None
    counts_above: float | None = None

    @property
    def has_rule(self) -> bool:
        """Whether anybody knows what the cold does to the wait."""
        return self.rated_at is not None and self.doubles_per is not None

    @property
    def follows_air(self) -> bool:
        """Whether the temperature matters at all."""
        return self.has_rule or self.counts_above is not None

    def at(self, temperature: float | None) -> float:
        """Return how many minutes one minute counts for.

        Takes:   °C; None where it is not known.
        Returns: 1 at the label's temperature, at an unknown one, and where no rule is known; 0 where it does not count.
        Raises:  nothing.
        Source:  the shop document, rule 3.

        >>> pva = Pace(rated_at=70, doubles_per=15)
        >>> pva.at(55), pva.at(80)
        (0.5, 1.0)
        """
        if temperature is None:
            return 1.0
        if self.counts_above is not None and temperature < self.counts_above - LOOSE:
            return 0.0
        if self.rated_at is None or self.doubles_per is None:
            return 1.0
        if temperature <= self.rated_at:
            return float(2.0 ** ((temperature - self.rated_at) / self.doubles_per))
        return self.warmth(temperature) if self.faster_when_warm else 1.0

    def warmth(self, temperature: float) -> float:
        """Return how much faster all goes than at the label's temperature, never slower.

        Takes:   °C.
        Returns: 1 at the label's temperature, where it is colder, and where no rule is known.
        Raises:  nothing.
        Source:  the shop document, rule 3.

        >>> Pace(rated_at=70, doubles_per=15).warmth(85)
        2.0
        """
        per = self.faster_per or self.doubles_per
        if self.rated_at is None or self.doubles_per is None or per is None:
            return 1.0
        return float(2.0 ** min(max(temperature - self.rated_at, 0.0) / per, _MOST_DOUBLINGS))


AS_LABELLED = Pace()
