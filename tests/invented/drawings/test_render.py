"""The order in which solids are drawn, and the geometry under it."""

import pytest

from webapp.invented.drawings.boxes import around, strips
from webapp.invented.drawings.render import hull, ordered
from webapp.invented.drawings.sketches import figure
from webapp.invented.drawings.solids import box, slab, turned
from webapp.invented.drawings.space import Camera, Point, homography

CAMERA = Camera(turned=-30, away=4000, height=1500, scale=0.7, middle=(640, 480), look=400)


def test_upright_lines_stay_upright() -> None:
    low, high = CAMERA.spot(Point(300, 200, 0)), CAMERA.spot(Point(300, 200, 700))
    assert low[0] == pytest.approx(high[0])
    assert high[1] < low[1]


def test_what_is_nearer_is_drawn_later() -> None:
    near, far = box("oak", (0, -200, 0), (100, 50, 100)), box("oak", (0, 100, 0), (100, 50, 100))
    assert ordered([near, far], CAMERA) == [far, near]


def test_what_lies_on_top_is_drawn_later() -> None:
    top, leg = box("oak", (-200, -200, 100), (400, 400, 20)), box("oak", (-190, -190, 0), (40, 40, 100))
    assert ordered([top, leg], CAMERA) == [leg, top]


def test_a_hollow_outline_faces_the_side_it_is_seen_from() -> None:
    """An outline that bends inwards at its first corners all the same looks up."""
    hollow = [(0.0, 0.0), (50.0, 10.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]
    face = slab("oak", hollow, Point(0, 0, 20), Point(1, 0, 0), Point(0, 1, 0), 20, Point(1, 0, 0)).faces[0]
    assert face.normal.z == pytest.approx(1)


def test_a_door_turns_about_its_hinge() -> None:
    door = turned(box("oak", (0, 0, 0), (400, 20, 600)), -90, (0, 0))
    low, high = door.bounds()
    assert (low.y, high.y) == (pytest.approx(-400), pytest.approx(0))


def test_a_homography_takes_corners_to_corners() -> None:
    paper = [(10.0, 20.0), (210.0, 40.0), (190.0, 160.0), (20.0, 140.0)]
    plane = [(0.0, 0.0), (400.0, 0.0), (400.0, 100.0), (0.0, 100.0)]
    a, b, c, d, e, f, g, h = homography(plane, paper)
    for (x, y), (u, v) in zip(paper, plane, strict=True):
        below = g * x + h * y + 1
        found = (a * x + b * y + c) / below, (d * x + e * y + f) / below
        assert found == pytest.approx((u, v), abs=1e-6)


def test_strips_cover_a_slanting_outline() -> None:
    outline = [(0.0, 0.0), (800.0, 400.0), (800.0, 430.0), (0.0, 30.0)]
    whole = around(outline, (1000, 600), 4)
    found = list(strips(outline, whole))
    assert len(found) > 1
    assert found[0][0] == whole[0]
    assert found[-1][2] == whole[2]
    area = sum((right - left) * (low - top) for left, top, right, low in found)
    assert area < (whole[2] - whole[0]) * (whole[3] - whole[1]) / 2


def test_a_hull_goes_round_all_spots() -> None:
    assert hull([(0, 0), (4, 0), (2, 1), (4, 4), (0, 4)]) == [(0, 0), (4, 0), (4, 4), (0, 4)]


@pytest.mark.parametrize(
    ("millimetres", "unit", "written"), [(1100, "mm", "1100"), (1100, "in", "43 1/4"), (254, "in", "10")]
)
def test_a_dimension_is_written_as_a_maker_writes_it(millimetres: float, unit: str, written: str) -> None:
    assert figure(millimetres, unit) == written
