from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.boards.sheets import MOST_PARTS, Cutting, Sheet, SheetError, SheetPart, area, cut
from webapp.trade.lengths import NANOMETRES

IN = NANOMETRES["in"]
MM = NANOMETRES["mm"]
PLY = Sheet(96 * IN, 48 * IN, IN // 8)


def part(name: str, length: int, width: int, count: int = 1, *, grain: bool = True) -> SheetPart:
    return SheetPart(name, length * IN, width * IN, count, grain)


def test_two_strips_of_half_the_width_do_not_come_out_of_a_sheet() -> None:
    """Constructed: the kerf; by area one sheet would do. Source: arithmetic."""
    doors = [part("door", 48, 24, 4)]
    assert cut(doors, Sheet(96 * IN, 48 * IN)).sheets == 1
    assert cut(doors, PLY).sheets == 4
    assert cut([SheetPart("door", 47 * IN, 23 * IN, 4)], PLY).sheets == 1


def test_a_part_is_turned_only_where_its_grain_allows() -> None:
    """Constructed: 60 in go along the sheet, not across it."""
    assert cut([part("back", 23, 46, 2)], PLY).laid[0].length == 23 * IN
    with pytest.raises(SheetError, match=r"“side” fits on a sheet only across its grain\."):
        cut([part("side", 40, 60)], PLY)
    assert cut([part("side", 40, 60, grain=False)], PLY).laid[0].length == 60 * IN


def test_lying_across_may_need_fewer_sheets() -> None:
    """Constructed: 10 stretchers of 47 x 9 in; along two in a strip of five strips, across ten side by side."""
    assert cut([part("stretcher", 47, 9, 10, grain=False)], PLY).sheets == 1
    assert cut([part("stretcher", 9, 47, 10)], PLY).sheets == 1


def test_trimmed_edges_are_lost() -> None:
    sheet = Sheet(2500 * MM, 1250 * MM, 3 * MM, trim=10 * MM)
    assert cut([SheetPart("top", 2480 * MM, 1230 * MM)], sheet).is_fewest
    with pytest.raises(SheetError, match="“top” is larger than a sheet"):
        cut([SheetPart("top", 2481 * MM, 1230 * MM)], sheet)


def test_a_bookcase_from_one_sheet() -> None:
    """Constructed and drawn by hand: 2 sides 72 x 11, 5 shelves 34 x 11 in one sheet of 48 x 96."""
    found = cut([part("side", 72, 11, 2), part("shelf", 34, 11, 5)], PLY)
    assert (found.sheets, found.at_least) == (2, 1)
    assert not found.is_fewest
    assert cut([part("side", 72, 11, 2), part("shelf", 34, 11, 4)], PLY).sheets == 1


def test_areas_add_up() -> None:
    assert area([SheetPart("a", 1000 * MM, 500 * MM, 2), SheetPart("b", 500 * MM, 500 * MM)]) == 1 + 0.25
    assert area([]) == 0


def test_no_parts_need_no_sheet() -> None:
    assert cut([], PLY) == Cutting(0, 0, ())


@pytest.mark.parametrize(
    ("parts", "sheet", "says"),
    [
        ([part("leg", 0, 3)], PLY, "Write the size and the number of “leg”"),
        ([part("leg", 3, 3, 0)], PLY, "Write the size and the number of “leg”"),
        ([part("leg", 3, 3)], Sheet(0, 48 * IN), "Nothing is left of the sheet"),
        ([part("leg", 3, 3)], Sheet(96 * IN, 48 * IN, trim=24 * IN), "Nothing is left of the sheet"),
        ([part("leg", 3, 3)], Sheet(96 * IN, 48 * IN, -1), "cannot be less than 0"),
        ([part("leg", 3, 3, MOST_PARTS + 1)], PLY, "more than 500 parts"),
        ([part("leg", 3, 3, 10**12)], PLY, "more than 500 parts"),
    ],
)
def test_what_cannot_be_cut_is_refused(parts: list[SheetPart], sheet: Sheet, says: str) -> None:
    with pytest.raises(SheetError, match=says):
        cut(parts, sheet)


PARTS = st.lists(
    st.builds(SheetPart, st.just("part"), st.integers(1, 48), st.integers(1, 48), st.integers(1, 6), st.booleans()),
    max_size=6,
)


@settings(max_examples=50)
@given(PARTS, st.integers(0, 3))
def test_every_part_lies_once_on_a_sheet_and_the_saw_passes_between(parts: list[SheetPart], kerf: int) -> None:
    sheet = Sheet(96, 48, kerf)
    found = cut(parts, sheet)
    assert found.sheets >= found.at_least
    assert found == cut(parts, sheet)
    assert len(found.laid) == sum(part.count for part in parts)
    wanted = sorted((min(p.length, p.width), max(p.length, p.width)) for p in parts for _ in range(p.count))
    assert wanted == sorted((min(laid.length, laid.width), max(laid.length, laid.width)) for laid in found.laid)
    for laid in found.laid:
        assert 0 <= laid.along <= sheet.length - laid.length
        assert 0 <= laid.across <= sheet.width - laid.width
        assert 0 <= laid.sheet < found.sheets
    for one, other in combinations(found.laid, 2):
        apart = (
            one.sheet != other.sheet
            or one.along + one.length + kerf <= other.along
            or other.along + other.length + kerf <= one.along
            or one.across + one.width + kerf <= other.across
            or other.across + other.width + kerf <= one.across
        )
        assert apart


@settings(max_examples=30)
@given(PARTS)
def test_parts_with_grain_lie_along_the_sheet(parts: list[SheetPart]) -> None:
    bound = [SheetPart(str(number), p.length, p.width, p.count) for number, p in enumerate(parts)]
    sizes = {p.name: (p.length, p.width) for p in bound}
    assert all(sizes[laid.name] == (laid.length, laid.width) for laid in cut(bound, Sheet(96, 48, 1)).laid)
