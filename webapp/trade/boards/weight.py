"""What wood weighs, from its specific gravity and moisture.

The figures are averages of a species, recalled from the table named and not seen, so one may be off by a hundredth; one
board of a species differs from the next by far more. Good for the van and for hinges, not for a bill.

Not modelled: sheet goods, hardware, woods that are not in the table (weigh a board of them).
"""

from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from webapp.trade.units import Number, convert

WATER = 1_000  # kg/m³
AIR_DRY = 12
SATURATED = 30  # percent: from here on wood swells no more
WETTEST = 250
SOURCE = "Wood Handbook FPL-GTR-190 (2010) ch. 5, Table 5-3, from memory"


class WeightError(ValueError):
    """Wood that cannot be weighed by reckoning; the text says what to do instead."""


@dataclass(frozen=True)
class Gravity:
    """Specific gravity in hundredths, dry weight over the volume green and at 12 % moisture."""

    green: int
    at_12: int


GRAVITIES = MappingProxyType(
    {
        "alder, red": Gravity(37, 41),
        "ash, white": Gravity(55, 60),
        "aspen, quaking": Gravity(35, 38),
        "basswood, American": Gravity(32, 37),
        "beech, American": Gravity(56, 64),
        "birch, paper": Gravity(48, 55),
        "birch, yellow": Gravity(55, 62),
        "butternut": Gravity(36, 38),
        "cherry, black": Gravity(47, 50),
        "cottonwood, eastern": Gravity(37, 40),
        "elm, American": Gravity(46, 50),
        "hackberry": Gravity(49, 53),
        "hickory, pecan": Gravity(60, 66),
        "hickory, shagbark": Gravity(64, 72),
        "maple, bigleaf": Gravity(44, 48),
        "maple, black": Gravity(52, 57),
        "maple, red": Gravity(49, 54),
        "maple, silver": Gravity(44, 47),
        "maple, sugar": Gravity(56, 63),
        "oak, northern red": Gravity(56, 63),
        "oak, white": Gravity(60, 68),
        "sweetgum": Gravity(46, 52),
        "sycamore, American": Gravity(46, 49),
        "walnut, black": Gravity(51, 55),
        "yellow-poplar": Gravity(40, 42),
        "cedar, western redcedar": Gravity(31, 32),
        "Douglas-fir, coast": Gravity(45, 48),
        "pine, eastern white": Gravity(34, 35),
        "pine, ponderosa": Gravity(38, 40),
        "pine, sugar": Gravity(34, 36),
    }
)


def gravity(species: str) -> Gravity:
    """Return the specific gravity of a species.

    Takes:   the name as the table has it, the tree first: "oak, white".
    Returns: a Gravity, from memory, good to a hundredth or so.
    Raises:  WeightError for a species that is not in the table; no figure is made up.
    Source:  SOURCE.

    >>> gravity("cherry, black")
    Gravity(green=47, at_12=50)
    """
    if species not in GRAVITIES:
        raise WeightError(f"No weight is known for “{species}”. Weigh a board of it.")
    return GRAVITIES[species]


def density(wood: Gravity, moisture: Number) -> Fraction:
    """Return what a cubic metre of wood weighs with the water in it, both at one moisture.

    Takes:   a Gravity; moisture in percent of the dry weight, from 0 to 250.
    Returns: kg/m³: 1000 G (1 + moisture/100), G on the volume at that moisture. Between green (30 % and over) and 12 %,
             and on to 0, the volume follows a straight line.
    Raises:  WeightError for a moisture outside that.
    Source:  weight: Wood Handbook FPL-GTR-190 (2010) ch. 5; the line between its two figures is ours.

    >>> density(gravity("oak, white"), 12) == Fraction("761.6"), float(density(gravity("cherry, black"), 80))
    (True, 846.0)
    """
    if not 0 <= moisture <= WETTEST:
        raise WeightError(f"Wood holds from 0 to {WETTEST} % of its dry weight in water. Look at the reading again.")
    green, dry = Fraction(wood.green, 100), Fraction(wood.at_12, 100)
    per_point = (1 / green - 1 / dry) / (SATURATED - AIR_DRY)
    volume = 1 / dry + per_point * (min(Fraction(moisture), Fraction(SATURATED)) - AIR_DRY)
    return WATER * (1 + Fraction(moisture) / 100) / volume


def weight(board_feet: Number, wood: Gravity, moisture: Number) -> Fraction:
    """Return what board feet weigh, measured at that moisture.

    Takes:   board feet by volume (not by tally), 0 or more; a Gravity; moisture in percent, from 0 to 250.
    Returns: kilograms; `units.convert` makes pounds of them.
    Raises:  WeightError for less than 0 and for a moisture outside that.
    Source:  as `density`; 1 board foot is 144 cubic inches.

    >>> round(float(convert(weight(1, gravity("oak, white"), 12), "kg", "lb")), 2)
    3.96
    """
    if board_feet < 0:
        raise WeightError("Wood cannot be less than 0 board feet.")
    return convert(board_feet, "bd ft", "m³") * density(wood, moisture)
