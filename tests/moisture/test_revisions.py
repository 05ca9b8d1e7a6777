from dataclasses import dataclass

from webapp.moisture.revisions import folded, standing


@dataclass(frozen=True)
class Line:
    number: int
    revision: int
    at: int
    is_taken_back: bool = False


FIRST, PUT_RIGHT = Line(1, 1, at=10), Line(1, 2, at=30)
SECOND, GONE = Line(2, 1, at=20), Line(2, 2, at=20, is_taken_back=True)
THIRD = Line(3, 1, at=20)


def test_the_last_revision_of_a_number_counts_in_whatever_order_rows_come() -> None:
    rows = [PUT_RIGHT, THIRD, GONE, FIRST, SECOND]
    assert folded(rows) == folded(reversed(rows)) == [[SECOND, GONE], [THIRD], [FIRST, PUT_RIGHT]]


def test_what_was_taken_back_does_not_stand() -> None:
    assert standing([FIRST, PUT_RIGHT, SECOND, GONE, THIRD]) == [THIRD, PUT_RIGHT]
    assert standing([SECOND, GONE]) == standing([]) == []
