import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.trade.wood.test_movement import ANY_CUT, ANY_SPECIES, MOISTURES, most
from webapp.trade.wood.movement import MovementError, Season
from webapp.trade.wood.movement_gaps import inset, inset_gaps, panel
from webapp.trade.wood.species import Species, find

MM = 1_000_000
CHERRY = find("black cherry")


def test_a_panel_cut_today_by_hand() -> None:
    """Plain arithmetic: cherry 0.00248, 8 % today, 6 to 10 %; opening 400, groove 10, hold 5, 1 mm free.

    Held when dry: 410 / (1 - 0.00496) = 412.04. Free when wet: 418 / 1.00496 = 415.94. Halfway 413.99, so 3.00 a side.
    """
    fit = panel(400 * MM, 10 * MM, CHERRY, "flat-sawn", Season(6, 8, 10), hold=5 * MM, spare=MM)
    assert fit is not None
    assert fit.width is not None
    assert fit.gap is not None
    assert [round(size / MM, 2) for size in (fit.narrowest, fit.width, fit.widest)] == [412.04, 413.99, 415.94]
    assert [round(size / MM, 2) for size in (fit.least_gap, fit.gap, fit.most_gap)] == [2.03, 3.0, 3.98]
    assert round(fit.shows / MM, 2) == 1.03


def test_a_panel_made_in_the_dry_season_needs_all_its_gap() -> None:
    """At the dry end it will only grow; at the wet end only shrink, and then its unfinished edge would show most."""
    dry, wet = (
        panel(400 * MM, 10 * MM, CHERRY, "flat-sawn", Season(6, today, 10), hold=5 * MM, spare=MM) for today in (6, 10)
    )
    assert dry is not None
    assert wet is not None
    assert dry.shows == 0
    assert round(wet.shows / MM, 1) == 2.1
    assert dry.least_gap > wet.least_gap


def test_a_panel_coated_after_the_frame_shows_a_bare_line() -> None:
    """TA13: how much comes out of each groove by the dry end; all of it on one side where nothing holds the middle."""
    pinned, loose = (
        panel(400 * MM, 12 * MM, CHERRY, "flat-sawn", Season(6, 10, 10), hold=2 * MM, pinned=held)
        for held in (True, False)
    )
    assert pinned is not None
    assert loose is not None
    assert pinned.shows > 2 * MM
    assert loose.shows > 1.9 * pinned.shows
    assert loose.narrowest > pinned.narrowest


def test_a_groove_too_shallow_says_how_deep() -> None:
    beech, season = find("american beech"), Season(6, 8, 13)
    fit = panel(600 * MM, 8 * MM, beech, "flat-sawn", season, hold=5 * MM)
    assert fit is not None
    assert not fit.fits
    assert fit.width is fit.gap is None
    assert fit.narrowest > fit.widest
    deeper = panel(600 * MM, fit.groove_needed, beech, "flat-sawn", season, hold=5 * MM)
    assert deeper is not None
    assert deeper.fits
    assert deeper.widest - deeper.narrowest < 5


@given(
    st.integers(50, 900), st.integers(6, 20), st.integers(1, 5), ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES, MOISTURES,
    st.booleans(),
)  # fmt: skip
@settings(max_examples=50)
def test_a_panel_neither_binds_nor_falls_out(
    opening: int,
    groove: int,
    hold: int,
    species: Species,
    cut: str,
    one: float,
    other: float,
    today: float,
    pinned: bool,
) -> None:
    dry, wet = sorted((one, other))
    season = Season(dry, today, wet)
    fit = panel(opening * MM, groove * MM, species, cut, season, hold=hold * MM, spare=MM, pinned=pinned)
    assert fit is not None
    assert fit.fits is (fit.groove_needed <= groove * MM)
    if fit.width is None:
        return
    assert fit.narrowest <= fit.width <= fit.widest
    for width in (fit.narrowest, fit.width, fit.widest):
        at_wet = width + most(width, species, cut, today, wet)
        at_dry = width + most(width, species, cut, today, dry)
        assert at_wet <= (opening + 2 * groove - 2) * MM + 1
        if pinned:
            assert at_dry >= (opening + 2 * hold) * MM - 1
        else:
            assert at_dry >= (opening + groove + hold) * MM - 1


def test_a_drawer_side_cut_today_by_hand() -> None:
    """Plain arithmetic: sugar maple 0.00353, 8 % today, 6 to 11 %; 199 / 1.01059 = 196.91 in an opening of 200."""
    fit = inset(200 * MM, find("sugar maple"), "flat-sawn", Season(6, 8, 11), clear=MM)
    assert fit is not None
    assert [round(size / MM, 2) for size in (fit.size, fit.today, fit.dry, fit.wet)] == [196.91, 3.09, 4.48, 1.0]
    assert not fit.binds


def test_a_drawer_front_that_is_too_large_binds_at_the_wet_end() -> None:
    fit = inset_gaps(200 * MM, 199 * MM, find("sugar maple"), "flat-sawn", Season(6, 8, 11))
    assert fit is not None
    assert fit.binds
    assert fit.wet < 0 < fit.today < fit.dry


@given(st.integers(20, 900), st.integers(0, 5), ANY_SPECIES, ANY_CUT, MOISTURES, MOISTURES, MOISTURES)
@settings(max_examples=50)
def test_a_drawer_keeps_its_gap_all_year(
    opening: int, clear: int, species: Species, cut: str, one: float, other: float, today: float
) -> None:
    dry, wet = sorted((one, other))
    fit = inset(opening * MM, species, cut, Season(dry, today, wet), clear=clear * MM)
    assert fit is not None
    assert clear * MM <= fit.wet <= fit.today <= fit.dry
    assert fit.wet <= clear * MM + 2
    assert not fit.binds


def test_unknown_wood_gives_no_size() -> None:
    """TA13: species or cut unknown."""
    season = Season(6, 8, 10)
    for species, cut in ((None, "flat-sawn"), (CHERRY, None)):
        assert panel(400 * MM, 10 * MM, species, cut, season, hold=5 * MM) is None
        assert inset(200 * MM, species, cut, season, clear=MM) is None
        assert inset_gaps(200 * MM, 199 * MM, species, cut, season) is None


def test_what_cannot_be_cut_is_refused() -> None:
    season = Season(6, 8, 10)
    for sizes in ((0, 10, 5, 0), (400, 0, 5, 0), (400, 10, 0, 0), (400, 10, 5, -1)):
        opening, groove, hold, spare = sizes
        with pytest.raises(MovementError, match="over 0"):
            panel(opening * MM, groove * MM, CHERRY, "flat-sawn", season, hold=hold * MM, spare=spare * MM)
    with pytest.raises(MovementError, match="Make it deeper"):
        panel(400 * MM, 5 * MM, CHERRY, "flat-sawn", season, hold=5 * MM, spare=1)
    for opening, clear in ((0, 1), (200, -1)):
        with pytest.raises(MovementError, match="over 0"):
            inset(opening * MM, CHERRY, "flat-sawn", season, clear=clear * MM)
    with pytest.raises(MovementError, match="Leave less free"):
        inset(200, CHERRY, "flat-sawn", season, clear=200)
