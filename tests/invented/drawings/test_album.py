"""The pictures: each is drawn, each looks like something, and all are the same the next time."""

from datetime import datetime
from io import BytesIO
from zoneinfo import ZoneInfo

import pytest
from PIL import Image, ImageStat

from webapp.invented.drawings import views, woods
from webapp.invented.drawings.album import PICTURES, SKETCHES, drawn, photo
from webapp.web import images

TAKEN = datetime(2026, 3, 4, 9, 15, tzinfo=ZoneInfo("America/New_York"))


@pytest.mark.parametrize("name", [*PICTURES, *SKETCHES])
def test_a_picture_shows_something(name: str) -> None:
    picture = drawn(name, "mm")
    assert picture.size in (views.WIDE, views.TALL)
    assert picture.mode == "RGB"
    assert max(ImageStat.Stat(picture).stddev) > 8  # not an empty sheet
    assert picture.getpixel((3, 3)) != (0, 0, 0)


def test_a_picture_is_the_same_each_time() -> None:
    assert photo("tray dry", "mm", TAKEN) == photo("tray dry", "mm", TAKEN)


def test_a_sketch_is_dimensioned_in_the_units_of_the_shop() -> None:
    assert drawn("chest sketch", "mm").tobytes() != drawn("chest sketch", "in").tobytes()


def test_a_picture_says_when_it_was_taken() -> None:
    file = BytesIO(photo("chest sketch", "mm", TAKEN))
    assert images.read(file).taken_at(ZoneInfo("UTC")) == TAKEN


@pytest.mark.parametrize("name", woods.WOODS)
def test_each_wood_has_a_colour_of_its_own(name: str) -> None:
    """Neither too even to be wood nor of another's colour."""
    board = woods.board(name, 0)
    assert board.size == woods.BOARD
    assert min(ImageStat.Stat(board).stddev) > 4
    middle = ImageStat.Stat(board.resize((1, 1), Image.Resampling.BOX)).mean
    wood = woods.WOODS[name]
    assert all(low <= found <= high for low, found, high in zip(wood.dark, middle, wood.light, strict=True))
