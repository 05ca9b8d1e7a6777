"""Rates beside the trade's doubling that the same sum is taken with: Arrhenius', and degrees times time (ASTM C1074).

The doubling rule is Arrhenius' over a small span: exact only near one activation energy. Who has an activation energy
from a data sheet asks here what the rule of thumb is worth; the clock sums either.

Not modelled: rates that depend on how far a cure has gone.
"""

from dataclasses import dataclass
from math import exp, log

GAS = 8.314462618e-3  # kJ/(mol K)
BOLTZMANN = 8.617333262e-5  # eV/K
ZERO_CELSIUS = 273.15  # K


@dataclass(frozen=True, slots=True)
class Arrhenius:
    """A rate by activation energy: `q` is the energy over the gas constant, in K; 1 at `rated_at` °C."""

    rated_at: float
    q: float

    @classmethod
    def of_energy(cls, rated_at: float, energy: float, constant: float = GAS) -> "Arrhenius":
        """Return the rate of an activation energy.

        Takes:   °C at which the rate is 1; the energy in kJ/mol, or in eV with BOLTZMANN as the constant.
        Returns: the rate.
        Raises:  nothing.
        Source:  ASTM C1074, equivalent age: Q = E/R.

        >>> round(Arrhenius.of_energy(20, 50).at(30), 4)
        1.9674
        """
        return cls(rated_at, energy / constant)

    @property
    def follows_air(self) -> bool:
        """Always."""
        return True

    def at(self, temperature: float | None) -> float:
        """Return how many minutes one minute counts for.

        Takes: °C; None where it is not known. Returns: 1 at `rated_at`. Raises: nothing. Source: ASTM C1074.

        >>> round(Arrhenius(23, 5000).at(10), 6)
        0.460635
        """
        if temperature is None:
            return 1.0
        return exp(-self.q * (1 / (temperature + ZERO_CELSIUS) - 1 / (self.rated_at + ZERO_CELSIUS)))


@dataclass(frozen=True, slots=True)
class DegreeTime:
    """Degrees above a datum, times time: the maturity of Nurse and Saul. Under the datum nothing counts."""

    datum: float

    @property
    def follows_air(self) -> bool:
        """Always."""
        return True

    def at(self, temperature: float | None) -> float:
        """Return the degrees above the datum.

        Takes: °C; None where it is not known. Returns: °C, not negative. Raises: nothing. Source: ASTM C1074.

        >>> DegreeTime(-11).at(15), DegreeTime(-10).at(-12)
        (26, 0.0)
        """
        return 0.0 if temperature is None else max(temperature - self.datum, 0.0)


def doubling_energy(cooler: float, warmer: float) -> float:
    """Return the activation energy at which a rate doubles from one temperature to another.

    Takes:   °C.
    Returns: kJ/mol.
    Raises:  ZeroDivisionError where the two are the same.
    Source:  Arrhenius; 52.95 from 25 to 35 °C is published.

    >>> round(doubling_energy(25, 35), 2)
    52.95
    """
    return GAS * log(2) / (1 / (cooler + ZERO_CELSIUS) - 1 / (warmer + ZERO_CELSIUS))
