"""Board feet beside the bill."""

from fractions import Fraction

from webapp.stock.measure import measure
from webapp.trade.lengths import read


def test_the_volume_and_the_yards_tally_stand_side_by_side() -> None:
    """TA23: tally rule of americanhardwood.org, one board 2 in by 6 1/4 in by 8 ft."""
    found = measure(1, read("8/4", "in", nominal=True), read("6 1/4", "in"), read("8'", "in"))
    assert found is not None
    assert (found.exact, found.tally) == (Fraction(25, 3), 8)
    assert found.says == "by its sizes 8.33 bd ft, by the yard's tally 8 bd ft"


def test_equal_pieces_are_counted_together() -> None:
    """Exact halves of surface measure go up and down in turn (woodweb.com, on the hardwood rule): 5 + 4 + 5 + 4."""
    found = measure(4, read("4/4", "in", nominal=True), read("6", "in"), read("9'", "in"))
    assert found is not None
    assert (found.exact, found.tally) == (18, 18)


def test_a_missing_size_makes_nothing() -> None:
    assert measure(2, read("1", "in"), None, read("8'", "in")) is None


def test_a_size_of_nothing_makes_nothing() -> None:
    assert measure(2, read("1", "in"), read("0", "in"), read("8'", "in")) is None
