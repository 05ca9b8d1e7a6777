"""Pictures out of files: upright and clean."""

from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from PIL import Image, ImageChops, ImageCms, ImageStat

from tests.pictures import phone_exif, scene, sent
from webapp.web import images

NEW_YORK = ZoneInfo("America/New_York")


def opened(content: bytes) -> Image.Image:
    return Image.open(BytesIO(content))


def difference(one: Image.Image, other: Image.Image) -> float:
    """Mean difference of a pixel, of 255."""
    assert one.size == other.size
    return float(sum(ImageStat.Stat(ImageChops.difference(one.convert("RGB"), other.convert("RGB"))).mean) / 3)


def stored(picture: Image.Image, orientation: int) -> Image.Image:
    """The pixels as a camera held that way stores them (Exif 2.32, tag 274): what undoes the turn."""
    back = {6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}
    turn = back.get(orientation, images.TURNS.get(orientation))
    return picture if turn is None else picture.transpose(turn)


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_comes_out_upright_in_both_sizes(orientation: int) -> None:
    """SA01: turned once, and the tag is gone, so that a browser does not turn it again."""
    picture = scene(300, 400)
    read = images.read(sent(stored(picture, orientation), exif=phone_exif(orientation)))
    assert (read.width, read.height) == (300, 400)
    for content in read.sizes.values():
        found = opened(content)
        assert dict(found.getexif()) == {}
        assert difference(found, picture.resize(found.size)) < 4
        assert difference(found, picture.transpose(Image.Transpose.ROTATE_180).resize(found.size)) > 20


@pytest.mark.shared
@pytest.mark.parametrize("number", range(1, 9))
def test_the_eight_portraits_stand_like_the_first(sample_photos: Path, number: int) -> None:
    """SA01: real files of the eight orientations."""
    with (sample_photos / "mit/portrait_1.jpg").open("rb") as file:
        first = opened(images.read(file).sizes["large"])
    with (sample_photos / f"mit/portrait_{number}.jpg").open("rb") as file:
        read = images.read(file)
    assert (read.width, read.height) == (1200, 1800)
    found = opened(read.sizes["large"])
    assert found.size == (853, 1280)
    assert difference(found, first) < 8  # each bears its own number
    assert difference(found.transpose(Image.Transpose.ROTATE_180), first) > 20


@pytest.mark.shared
def test_small_orientation_files_stand_upright(sample_photos: Path) -> None:
    """SA01: JPEG and WebP."""
    found = []
    for name in ("hopper_orientation_8.jpg", "hopper_orientation_6.webp"):
        with (sample_photos / "mit-cmu" / name).open("rb") as file:
            found.append(opened(images.read(file).sizes["large"]))
    assert difference(*found) < 8


@pytest.mark.shared
@pytest.mark.parametrize("name", ["exif_imagemagick_orientation.png", "xmp_tags_orientation.png"])
def test_an_orientation_in_text_or_xmp_is_followed(sample_photos: Path, name: str) -> None:
    """SA01: orientation 3 in a PNG's text chunk, and in XMP."""
    path = sample_photos / "mit-cmu" / name
    with path.open("rb") as file:
        found = opened(images.read(file).sizes["large"])
    with Image.open(path) as raw:
        pixels = raw.convert("RGBA")
    paper = Image.new("RGBA", pixels.size, "white")
    paper.alpha_composite(pixels)
    assert difference(found, paper.transpose(Image.Transpose.ROTATE_180)) < 8
    assert difference(found, paper) > 8


def test_nothing_but_pixels_survives() -> None:
    """SA02: (c) no position, camera, comment, XMP or profile in anything that is served; 12 MP as a phone sends it."""
    xmp = b"<x:xmpmeta>SECRET-XMP</x:xmpmeta>"
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    file = sent(
        scene(4032, 3024), exif=phone_exif(6), comment=b"SECRET-COMMENT", xmp=xmp, icc_profile=profile, quality=90
    )
    for secret in (b"SECRET-COMMENT", b"SECRET-XMP", b"CAMERA-MAKER", b"Exif"):
        assert secret in file.getvalue()
    read = images.read(file)
    assert (read.width, read.height) == (3024, 4032)
    assert [opened(read.sizes[name]).size for name in ("small", "large")] == [(240, 320), (960, 1280)]
    for content in read.sizes.values():
        assert not any(word in content for word in (b"SECRET", b"CAMERA", b"EXIF", b"Exif", b"XMP", b"ICCP"))
        assert set(opened(content).info) <= {"loop", "background", "timestamp", "duration"}


def test_a_small_picture_is_not_blown_up() -> None:
    read = images.read(sent(scene(100, 60), "PNG"))
    assert [opened(content).size for content in read.sizes.values()] == [(100, 60), (100, 60)]


@pytest.mark.parametrize(
    ("mode", "kind"),
    [("L", "PNG"), ("1", "PNG"), ("P", "PNG"), ("CMYK", "JPEG"), ("L", "JPEG"), ("RGB", "WEBP"), ("RGB", "AVIF")],
)
def test_every_kind_of_pixels_is_taken(mode: str, kind: str) -> None:
    picture = scene()
    found = opened(images.read(sent(picture.convert(mode), kind)).sizes["large"])
    assert found.mode == "RGB"
    assert difference(found, picture.convert(mode).convert("RGB")) < 12


def test_sixteen_bits_of_grey_are_not_all_white() -> None:
    found = opened(images.read(sent(Image.new("I;16", (40, 30), 256 * 100), "PNG")).sizes["large"])
    assert found.getpixel((20, 15)) == pytest.approx((100, 100, 100), abs=2)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "PA"])
def test_what_is_clear_becomes_white_paper(mode: str) -> None:
    picture = Image.new("RGBA", (40, 30), (0, 0, 0, 0))
    kept = picture.convert("LA").convert("RGBA").quantize() if mode == "PA" else picture.convert(mode)
    assert opened(images.read(sent(kept, "PNG")).sizes["large"]).getpixel((5, 5)) == (255, 255, 255)


def test_colours_are_brought_to_what_browsers_show() -> None:
    """A profile whose red and green are exchanged: its red is our green. Source: made here from the sRGB profile."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    red, green = profile.index(b"rXYZ"), profile.index(b"gXYZ")
    profile[red : red + 4], profile[green : green + 4] = b"gXYZ", b"rXYZ"
    file = sent(Image.new("RGB", (40, 30), "red"), icc_profile=bytes(profile))
    assert opened(images.read(file).sizes["large"]).getpixel((20, 15)) == pytest.approx((0, 255, 0), abs=12)


def test_a_broken_colour_profile_does_no_harm() -> None:
    file = sent(Image.new("RGB", (40, 30), "red"), icc_profile=b"no profile at all")
    assert opened(images.read(file).sizes["large"]).getpixel((20, 15)) == pytest.approx((254, 0, 0), abs=6)


def test_a_clock_without_offset_is_read_in_the_zone_of_the_shop() -> None:
    """SA02: (b) not in the server's zone; winter and summer time as the shop has them."""
    for clock, moment in (("2026:01:10 09:30:00", (1, 10, 14, 30)), ("2026:07:10 09:30:00", (7, 10, 13, 30))):
        read = images.read(sent(scene(), exif=phone_exif(taken=clock)))
        assert read.taken_at(NEW_YORK) == datetime(2026, *moment, tzinfo=UTC)


def test_a_clock_with_offset_means_that_moment() -> None:
    """SA02: the camera's own offset counts before the zone of the shop."""
    read = images.read(sent(scene(), exif=phone_exif(taken="2026:01:10 09:30:00", offset="+03:00")))
    assert read.taken_at(NEW_YORK) == datetime(2026, 1, 10, 6, 30, tzinfo=UTC)


@pytest.mark.parametrize(
    "clock",
    ["", "0000:00:00 00:00:00", "2026:13:40 00:00:00", "    :  :     :  :  ", None, 7, "0001:01:01 00:00:00",
     "9999:12:31 23:59:59"],
)  # fmt: skip
def test_a_clock_that_was_never_set_says_nothing(clock: object) -> None:
    assert images.read_time(clock) is None


@pytest.mark.parametrize(
    ("offset", "hour"), [("+05:30", 4), ("-04:00", 13), ("Z", 9), ("+99:00", 9), ("   :  ", 9), (None, 9)]
)
def test_an_offset_that_makes_no_sense_is_left_out(offset: object, hour: int) -> None:
    found = images.read_time("2026:01:10 09:30:00", offset)
    assert found is not None
    assert (found.astimezone(UTC) if found.tzinfo else found).hour == hour


@pytest.mark.shared
def test_a_malformed_position_does_not_stop_a_photo(sample_photos: Path) -> None:
    """SA02: the reader looks at the clock and never at the position."""
    for name, year in (("exif_gps.jpg", 2099), ("empty_gps_ifd.jpg", 2020)):
        with (sample_photos / "mit-cmu" / name).open("rb") as file:
            taken = images.read(file).taken
        assert taken is not None
        assert taken.year == year


@pytest.mark.shared
def test_avif_is_taken(sample_photos: Path) -> None:
    with (sample_photos / "mit-cmu/hopper.avif").open("rb") as file:
        assert images.read(file).width == 128
