from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.trade.lengths import Length, read
from webapp.trade.sizes.fits import fit
from webapp.trade.sizes.measured import Taken, fit_of, fit_says, judge, taken


def inches(text: str) -> Length:
    return read(text, "in", nominal=True)


def test_a_size_is_judged_in_the_unit_of_its_target() -> None:
    """TA29: by hand: 25.4 mm are an inch, so 0.5 mm is no 64th (source: arithmetic, NIST SP 811)."""
    said = [
        ("3/4", "3/4", "1/64", "on size", True),
        ("3/4", "49/64", "1/64", "within, 1/64 in over", True),
        ("3/4", "47/64", None, "1/64 in under", None),
        ("1", "25 mm", None, "about 0.016 in under", None),
        ("19 mm", "3/4", "0.1 mm", "within, 0.05 mm over", True),
        ("2 ft", "23 7/8", "1/16", "1/8 in under, 1/16 in more than it may be", False),
        ("1 m", "1002 mm", "1 mm", "2 mm over, 1 mm more than it may be", False),
    ]
    for target, actual, tolerance, says, within in said:
        found = judge(inches(target), read(actual, "in"), read(tolerance, "in") if tolerance else None)
        assert (found.says, found.within) == (says, within), target


def test_nothing_is_said_of_a_thickness_as_bought() -> None:
    """TA29: 8/4 is sold as 2 in and measures what it does."""
    found = judge(inches("8/4"), inches("1 3/4"), inches("1/64"))
    assert (found.off, found.within, found.says) == (0, None, "")
    assert taken(inches("8/4"), None) is None
    assert taken(inches("8/4"), inches("1 3/4")) == Taken(Fraction(44_450_000))


def test_a_fit_is_as_wide_as_what_its_sides_may_be_off() -> None:
    hole, pin = Taken(inches("1/2").exact, read("0.1 mm", "mm").exact), Taken(read("12.5", "mm").exact)
    said = "easy (0.1 mm of play) to loose (0.3 mm of play)"
    assert fit_says(*fit_of("pin in hole", hole, pin), "mm") == said


@settings(max_examples=50)
@given(st.integers(1, 10**9), st.integers(1, 10**9), st.integers(0, 10**6))
def test_what_was_measured_fits_as_it_measures(opening: int, piece: int, tolerance: int) -> None:
    """Both measured is no range; a tolerance only widens it, the same way to both sides."""
    sure = fit("panel in groove", opening, piece)
    held = Taken(Fraction(piece)), Taken(Fraction(opening), Fraction(tolerance))
    assert fit_of("panel in groove", Taken(Fraction(opening)), held[0]) == (sure, sure)
    tightest, loosest = fit_of("panel in groove", held[1], held[0])
    assert (tightest.clearance + loosest.clearance) / 2 == sure.clearance
