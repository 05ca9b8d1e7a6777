"""The tables of a meter's manual as a maker types them: one line each, what it is for and what to add.

Lines may say what they hold for: `50 15 +2` is 2 points more at 50 ° where the meter shows 15 %; `50 +2` is for
whatever it shows. So for species: `white oak 12 -0.5`, `white oak -0.5`.

Not modelled: tables that give the moisture itself instead of what to add; subtract what the meter shows.
"""

from collections.abc import Iterable

from webapp.trade.numerals import NumberError, read_decimal
from webapp.trade.wood.moisture import MoistureError
from webapp.trade.wood.moisture_meter import Point, SpeciesPoint, WarmthPoint

MOST_LINES = 200
FARTHEST = 1_000


def read_warmth(text: str) -> tuple[WarmthPoint, ...]:
    """Return the lines of a table by temperature.

    Takes:   lines of a temperature in the meter's own unit, what the meter shows in % (may be left out), what to add.
    Returns: a WarmthPoint for each line that is not empty.
    Raises:  MoistureError naming the first line that cannot be read, or for more than 200 lines.
    Source:  the meter's manual, typed by the maker.

    >>> read_warmth("50 +2")
    (WarmthPoint(temperature=50.0, point=Point(add=2.0, reading=None)),)
    """
    found = []
    for number, line in _lines(text):
        words = line.split()
        if len(words) not in (2, 3):
            raise MoistureError(
                f"Line {number}: write temperature, what the meter shows and what to add, like 50 15 +2."
            )
        numbers = [_number(word, number) for word in words]
        found.append(WarmthPoint(numbers[0], _point(numbers[1:])))
    return tuple(found)


def read_species(text: str) -> tuple[SpeciesPoint, ...]:
    """Return the lines of a table by species.

    Takes:   lines of a species as the manual names it, what the meter shows in % (may be left out), what to add.
    Returns: a SpeciesPoint for each line that is not empty.
    Raises:  MoistureError naming the first line that cannot be read, or for more than 200 lines.
    Source:  the meter's manual, typed by the maker.

    >>> read_species("white oak 12 -0.5")
    (SpeciesPoint(species='white oak', point=Point(add=-0.5, reading=12.0)),)
    """
    found = []
    for number, line in _lines(text):
        words = line.split()
        if len(words) < 2:
            raise MoistureError(f"Line {number}: write the species and what to add, like white oak +1.")
        numbers = [_number(words.pop(), number)]
        if len(words) > 1 and _is_number(words[-1]):
            numbers.insert(0, _number(words.pop(), number))
        found.append(SpeciesPoint(" ".join(words), _point(numbers)))
    return tuple(found)


def show_warmth(lines: Iterable[WarmthPoint]) -> str:
    """Return a table by temperature as it is typed.

    Takes:   WarmthPoints.
    Returns: a line for each.
    Raises:  nothing.
    Source:  plain text.

    >>> show_warmth(read_warmth("50 15 +2"))
    '50 15 +2'
    """
    return "\n".join(f"{line.temperature:g} {_shown(line.point)}" for line in lines)


def show_species(lines: Iterable[SpeciesPoint]) -> str:
    """Return a table by species as it is typed.

    Takes:   SpeciesPoints.
    Returns: a line for each.
    Raises:  nothing.
    Source:  plain text.

    >>> show_species(read_species("white oak 0"))
    'white oak +0'
    """
    return "\n".join(f"{line.species} {_shown(line.point)}" for line in lines)


def _lines(text: str) -> list[tuple[int, str]]:
    found = [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(found) > MOST_LINES:
        raise MoistureError(f"At most {MOST_LINES} lines, please.")
    return found


def _point(numbers: list[float]) -> Point:
    return Point(numbers[-1], numbers[0] if len(numbers) == 2 else None)


def _shown(point: Point) -> str:
    return f"{point.add:+g}" if point.reading is None else f"{point.reading:g} {point.add:+g}"


def _is_number(word: str) -> bool:
    try:
        _number(word, 0)
    except MoistureError:
        return False
    return True


def _number(word: str, line: int) -> float:
    plain = word.replace("\u2212", "-").removeprefix("+").rstrip("%°CFcf")
    try:
        found = float(read_decimal(plain, negative=True))
    except NumberError:
        raise MoistureError(f"Line {line}: {word} is not a number.") from None
    if abs(found) > FARTHEST:
        raise MoistureError(f"Line {line}: {word} cannot be right.")
    return found
