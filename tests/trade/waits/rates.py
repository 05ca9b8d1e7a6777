"""Rates with a published answer, summed by the clock of the waits: Arrhenius', and degrees times time (ASTM C1074).

The trade's doubling is Arrhenius' over a small span: exact only near one activation energy.
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
        """The rate of an energy in kJ/mol, or in eV with BOLTZMANN as the constant: Q = E/R."""
        return cls(rated_at, energy / constant)

    @property
    def follows_air(self) -> bool:
        return True

    def at(self, temperature: float | None) -> float:
        if temperature is None:
            return 1.0
        return exp(-self.q * (1 / (temperature + ZERO_CELSIUS) - 1 / (self.rated_at + ZERO_CELSIUS)))


@dataclass(frozen=True, slots=True)
class DegreeTime:
    """Degrees above a datum, times time: the maturity of Nurse and Saul. Under the datum nothing counts."""

    datum: float

    @property
    def follows_air(self) -> bool:
        return True

    def at(self, temperature: float | None) -> float:
        return 0.0 if temperature is None else max(temperature - self.datum, 0.0)


def doubling_energy(cooler: float, warmer: float) -> float:
    """The activation energy in kJ/mol at which a rate doubles from one temperature to another."""
    return GAS * log(2) / (1 / (cooler + ZERO_CELSIUS) - 1 / (warmer + ZERO_CELSIUS))
