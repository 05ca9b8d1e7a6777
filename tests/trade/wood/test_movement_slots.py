import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trade.wood.test_movement import ANY_CUT, ANY_SPECIES, MOISTURES
from webapp.trade.wood.movement import MovementError, Season, change
from webapp.trade.wood.movement_slots import slot
from webapp.trade.wood.species import Species, find

INCH = 25_400_000
SCREW = 5_000_000
OAK = find("white oak")


def test_a_slot_centred_at_the_middle_lets_the_screw_go_a_fifth_of_an_inch_either_way() -> None:
    """TA13: a 36 in top held in its middle, 6 to 12 %; at 9 % the screw sits in the middle of its slot."""
    found = slot(18 * INCH, SCREW, OAK, "flat-sawn", Season(6, 9, 12))
    assert found is not None
    assert found.inward == found.outward
    assert round(found.inward / INCH, 2) == 0.20
    assert found.off_centre == 0
    assert found.length == SCREW + found.inward + found.outward


@pytest.mark.parametrize(
    ("today", "inward", "outward", "off_centre"),
    [(6, 0, 0.394, 0.197), (12, 0.394, 0, -0.197), (7, 0.066, 0.329, 0.131)],
)
def test_where_the_screw_sits_today(today: float, inward: float, outward: float, off_centre: float) -> None:
    """TA13: put together at the dry end it sits at the inner end of the slot, at the wet end at the outer. By hand."""
    found = slot(18 * INCH, SCREW, OAK, "flat-sawn", Season(6, today, 12))
    assert found is not None
    told = (found.inward, found.outward, found.off_centre)
    assert [round(size / INCH, 3) for size in told] == [inward, outward, off_centre]


def test_what_is_to_spare_goes_to_both_ends() -> None:
    bare, easy = (slot(18 * INCH, SCREW, OAK, "flat-sawn", Season(6, 7, 12), spare) for spare in (0, 1_000_000))
    assert bare is not None
    assert easy is not None
    assert easy.length == bare.length + 2_000_000
    assert easy.off_centre == bare.off_centre


@given(st.integers(1, 10**9), ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES, MOISTURES)
@settings(max_examples=50)
def test_the_screw_never_leaves_its_slot(
    distance: int, species: Species, cut: str, one: float, other: float, today: float
) -> None:
    dry, wet = sorted((one, other))
    found = slot(distance, SCREW, species, cut, Season(dry, today, wet))
    assert found is not None
    for then in (dry, today, wet):
        moved = change(distance, species, cut, today, then)
        assert moved is not None
        assert -found.inward <= moved.most <= found.outward


def test_unknown_wood_gives_no_slot_and_no_screw_is_refused() -> None:
    """TA13: species or cut unknown."""
    assert slot(INCH, SCREW, None, "flat-sawn", Season(6, 7, 12)) is None
    assert slot(INCH, SCREW, OAK, None, Season(6, 7, 12)) is None
    for sizes in ((0, SCREW, 0), (INCH, 0, 0), (INCH, SCREW, -1)):
        with pytest.raises(MovementError, match="over 0"):
            slot(sizes[0], sizes[1], OAK, "flat-sawn", Season(6, 7, 12), sizes[2])
