"""Sheet goods: the area of parts, how many sheets they need at least, and a way to cut them.

Area alone promises too little: two 24 in strips do not come out of a 48 in sheet, for the saw takes its kerf. So the
answer is two numbers, the fewest that area and kerf allow, and how many are enough, with a cutting plan that proves it.
Where they are the same, fewer is not possible.

How: the sheet is ripped into strips, the strips are cut across, wide parts first; lengthwise and crosswise, parts as
given and turned where their grain allows, and what needs fewest sheets is taken.

Not modelled: cuts that do not go through (nesting by a router), defects, veneer that must run on from part to part.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from webapp.trade.units import NANOMETRES

MOST_PARTS = 500


class SheetError(ValueError):
    """Parts that cannot be cut from sheets; the text says which and why."""


@dataclass(frozen=True)
class Sheet:
    """A sheet in nanometres: its length along the grain, its width, what the saw takes, what each edge loses."""

    length: int
    width: int
    kerf: int = 0
    trim: int = 0


@dataclass(frozen=True)
class SheetPart:
    """So many equal parts in nanometres; `grain`: the length must lie along the sheet's, so it may not be turned."""

    name: str
    length: int
    width: int
    count: int = 1
    grain: bool = True


@dataclass(frozen=True)
class Laid:
    """One part on one sheet (counted from 0): its corner from the trimmed corner of the sheet, its size as it lies."""

    name: str
    sheet: int
    along: int
    across: int
    length: int
    width: int


@dataclass(frozen=True)
class Cutting:
    """How many sheets are enough by this plan, and how few can never do."""

    sheets: int
    at_least: int
    laid: tuple[Laid, ...]

    @property
    def is_fewest(self) -> bool:
        return self.sheets == self.at_least


# name, length, width, as a part lies
Piece = tuple[str, int, int]


def area(parts: Iterable[SheetPart]) -> Fraction:
    """Return the area of parts, without kerf.

    Takes:   parts in nanometres.
    Returns: square metres, exact.
    Raises:  SheetError when a size or a count is not over 0.
    Source:  plain arithmetic.

    >>> float(area([SheetPart("shelf", 900_000_000, 300_000_000, 4)]))
    1.08
    """
    pieces = list(parts)
    _check(pieces)
    return Fraction(sum(part.count * part.length * part.width for part in pieces), NANOMETRES["m"] ** 2)


def cut(parts: Sequence[SheetPart], sheet: Sheet) -> Cutting:
    """Return how many sheets parts need, with a plan of cuts from edge to edge.

    Takes:   up to 500 parts; a sheet; both in nanometres.
    Returns: a Cutting, the same for the same parts: what is enough, and the fewest that area and kerf allow.
    Raises:  SheetError when a size is not over 0, a part is larger than the sheet, or there are too many.
    Source:  strips are how a sheet is cut on a table or panel saw, common practice; the arithmetic is plain.

    >>> inch = NANOMETRES["in"]
    >>> four = [SheetPart("door", 48 * inch, 24 * inch, 4)]
    >>> cut(four, Sheet(96 * inch, 48 * inch)).sheets, cut(four, Sheet(96 * inch, 48 * inch, inch // 8)).sheets
    (1, 4)
    """
    _check(parts)
    if sum(part.count for part in parts) > MOST_PARTS:
        raise SheetError(f"These are more than {MOST_PARTS} parts. Take them in several lots.")
    bare = replace(sheet, length=sheet.length - 2 * sheet.trim, width=sheet.width - 2 * sheet.trim, trim=0)
    _check_sheet(sheet, bare)
    for part in parts:
        _check_fits(part, bare)
    lengthwise = [_laid_out(pieces, bare) for pieces in _ways(parts, bare)]
    crosswise = [_laid_out(_swapped(pieces), _turn_sheet(bare)) for pieces in _ways(parts, bare)]
    plan = min((*lengthwise, *map(_turned, crosswise)), key=_sheets)
    return Cutting(_sheets(plan), _fewest(parts, bare), tuple(plan))


def _check(parts: Iterable[SheetPart]) -> None:
    for part in parts:
        if part.length <= 0 or part.width <= 0 or part.count <= 0:
            raise SheetError(f"Write the size and the number of “{part.name}”, over 0.")


def _check_sheet(sheet: Sheet, bare: Sheet) -> None:
    if sheet.kerf < 0 or sheet.trim < 0:
        raise SheetError("What the saw takes cannot be less than 0.")
    if bare.length <= 0 or bare.width <= 0:
        raise SheetError("Nothing is left of the sheet. Write its length and width.")


def _check_fits(part: SheetPart, sheet: Sheet) -> None:
    if _fits(part, sheet) or (not part.grain and _fits(_turn(part), sheet)):
        return
    if _fits(_turn(part), sheet):
        raise SheetError(f"“{part.name}” fits on a sheet only across its grain.")
    raise SheetError(f"“{part.name}” is larger than a sheet.")


def _fits(part: SheetPart, sheet: Sheet) -> bool:
    return part.length <= sheet.length and part.width <= sheet.width


def _turn(part: SheetPart) -> SheetPart:
    return replace(part, length=part.width, width=part.length)


def _turn_sheet(sheet: Sheet) -> Sheet:
    return replace(sheet, length=sheet.width, width=sheet.length)


def _ways(parts: Sequence[SheetPart], sheet: Sheet) -> list[list[Piece]]:
    """Each part by itself as given, and those that may be turned all lying along or all across, where they fit so."""
    ways: list[list[Piece]] = []
    for long_side in ("as given", "along", "across"):
        lying = [(part, _lying(part, sheet, long_side)) for part in parts]
        pieces = [(part.name, way.length, way.width) for part, way in lying for _ in range(part.count)]
        if pieces not in ways:
            ways.append(pieces)
    return ways


def _lying(part: SheetPart, sheet: Sheet, long_side: str) -> SheetPart:
    turned = _turn(part)
    if part.grain or not _fits(turned, sheet):
        return part
    wants = {"as given": False, "along": turned.length > part.length, "across": turned.length < part.length}
    return turned if wants[long_side] or not _fits(part, sheet) else part


def _swapped(pieces: list[Piece]) -> list[Piece]:
    return [(name, width, length) for name, length, width in pieces]


def _turned(plan: list[Laid]) -> list[Laid]:
    return [Laid(one.name, one.sheet, one.across, one.along, one.width, one.length) for one in plan]


def _laid_out(pieces: list[Piece], sheet: Sheet) -> list[Laid]:
    """Widest first, so that every strip begun is wide enough for what comes; each into the first with the length."""
    strips: list[tuple[int, int]] = []  # sheet, across
    lengths: list[int] = []  # left of each strip
    widths: list[int] = []  # left of each sheet
    plan = []
    for name, length, width in sorted(pieces, key=lambda piece: (-piece[2], -piece[1])):
        strip = next((number for number, left in enumerate(lengths) if left >= length), len(lengths))
        if strip == len(lengths):
            strips.append(_strip(widths, width, sheet))
            lengths.append(sheet.length)
        on, across = strips[strip]
        plan.append(Laid(name, on, sheet.length - lengths[strip], across, length, width))
        lengths[strip] -= length + sheet.kerf
    return plan


def _strip(widths: list[int], width: int, sheet: Sheet) -> tuple[int, int]:
    """The sheet and the place of a new strip: on the first sheet with the width left, or on a new one."""
    on = next((number for number, left in enumerate(widths) if left >= width), len(widths))
    if on == len(widths):
        widths.append(sheet.width)
    across = sheet.width - widths[on]
    widths[on] -= width + sheet.kerf
    return on, across


def _sheets(plan: Sequence[Laid]) -> int:
    return max((laid.sheet for laid in plan), default=-1) + 1


def _fewest(parts: Iterable[SheetPart], sheet: Sheet) -> int:
    """No plan needs fewer: each part takes its kerf along, and so does a sheet."""
    kerf = sheet.kerf
    taken = sum(part.count * (part.length + kerf) * (part.width + kerf) for part in parts)
    return -(-taken // ((sheet.length + kerf) * (sheet.width + kerf)))
