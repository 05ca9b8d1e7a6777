"""Pictures as they are sent, made into upright clean ones: bytes in, bytes out, nothing stored and no clock read.

What comes out carries pixels only. Position, camera, comments and colour profile stay behind: the pixels are turned
and brought to sRGB, then copied into a new picture.
"""

import logging
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from importlib import import_module
from importlib.util import find_spec
from io import BytesIO
from threading import Lock
from typing import BinaryIO

from PIL import Image, ImageCms, UnidentifiedImageError

log = logging.getLogger(__name__)

SIZES = {"small": 320, "large": 1280}  # longest side in pixels
TYPE = "image/webp"
QUALITY = 78
HEAD_OF_WEBP = 20  # bytes before the pixels
MOST_PIXELS = 60_000_000  # the large pictures of phones have 50 million
FORMATS = ("JPEG", "PNG", "WEBP", "AVIF")
HEIF_BRANDS = {b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1"}
KINDS = "JPEG, PNG, WebP or AVIF"

# Exif 2.32: tag 274 and how the stored pixels must be turned to stand upright
ORIENTATION = 274
TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
EXIF = 0x8769
TIMES = ((0x9003, 0x9011), (0x9004, 0x9012))  # taken, made digital; each beside its offset
FIRST_YEAR, LAST_YEAR = 1826, 2150  # outside of them nobody took a photo, and a change of zone may leave the calendar
OFFSET = re.compile(r"([+-])(\d\d):(\d\d)")

Image.MAX_IMAGE_PIXELS = MOST_PIXELS
warnings.simplefilter("error", Image.DecompressionBombWarning)
SRGB = ImageCms.createProfile("sRGB")
READABLE: tuple[str, ...] = FORMATS
if find_spec("pillow_heif"):  # the extra [heic]; it turns the pixels itself and then says so
    import_module("pillow_heif").register_heif_opener()
    READABLE = (*FORMATS, "HEIF")

one_at_a_time = Lock()  # a large PNG takes 240 MB while it is read: four at once would be too much for a small server


class PictureError(ValueError):
    """A file that is no picture we can take; the text says what to do."""


@dataclass(frozen=True)
class Picture:
    """An upright picture: its size as sent, what the camera's clock said, and the small pictures as WebP."""

    width: int
    height: int
    taken: datetime | None  # without a zone where the camera named none
    sizes: dict[str, bytes]

    def taken_at(self, zone: tzinfo) -> datetime | None:
        """Return the moment it was taken; a clock that names no offset is read in the zone of the shop."""
        if self.taken is None:
            return None
        aware = self.taken if self.taken.tzinfo else self.taken.replace(tzinfo=zone)
        return aware.astimezone(UTC)


def fitted(width: int, height: int, longest: int) -> tuple[int, int]:
    """Return the size of a picture made small enough, never larger than it is."""
    if max(width, height) <= longest:
        return width, height
    share = longest / max(width, height)
    return max(1, round(width * share)), max(1, round(height * share))


def read(file: BinaryIO) -> Picture:
    """Return the picture in a file, or raise PictureError. The whole file is read; it is left open."""
    head = file.read(512)
    file.seek(0)
    _refuse_by_head(head)
    with one_at_a_time, _said_plainly(), Image.open(file, formats=READABLE) as picture:
        return _made(picture)


def small_of(large: bytes) -> bytes:
    """Return the small size of a large picture that is just as `read` makes it: WebP, pixels and nothing beside them.

    Raises PictureError for any other file, such as one that carries where it was taken.
    """
    if not _is_bare(large):
        raise PictureError("This is not a picture as Benchtide keeps them: WebP with nothing but its pixels.")
    with one_at_a_time, _said_plainly(), Image.open(BytesIO(large), formats=("WEBP",)) as picture:
        if max(picture.size) > SIZES["large"]:
            raise PictureError(f"This picture is wider or higher than {SIZES['large']} pixels.")
        small = picture.convert("RGB")
        small.thumbnail((SIZES["small"], SIZES["small"]))
        return _webp(small)


def _is_bare(webp: bytes) -> bool:
    """Whether the file is one chunk of lossy pixels, in the container that RFC 9649 describes."""
    size = int.from_bytes(webp[16:20], "little")
    whole = HEAD_OF_WEBP + size + size % 2
    right = webp[:4] == b"RIFF" and webp[8:16] == b"WEBPVP8 " and len(webp) == whole
    return right and int.from_bytes(webp[4:8], "little") == whole - 8


def _made(picture: Image.Image) -> Picture:
    width, height = picture.size
    if width * height > MOST_PIXELS:
        raise Image.DecompressionBombError
    largest = max(SIZES.values())
    picture.draft("RGB", (largest, largest))
    turn = _turn(picture)
    taken = _taken(picture)
    profile = picture.info.get("icc_profile")
    picture = _for_scaling(picture)
    picture.thumbnail((largest, largest))
    if turn is not None:
        picture = picture.transpose(turn)
        width, height = (height, width) if turn in _sideways() else (width, height)
    return Picture(width, height, taken, _sizes(_plain(picture, profile)))


def _sideways() -> set[Image.Transpose]:
    return {TURNS[number] for number in (5, 6, 7, 8)}


def _turn(picture: Image.Image) -> Image.Transpose | None:
    """Return how to turn the pixels. Pillow also finds the tag in a PNG's text and in XMP."""
    return TURNS.get(picture.getexif().get(ORIENTATION, 1))


def _for_scaling(picture: Image.Image) -> Image.Image:
    """Return the picture in a mode that can be scaled smoothly: no palette, no 16 bits of grey."""
    if picture.mode.startswith("I"):
        return picture.point(lambda value: value / 256).convert("L")
    if picture.mode in {"1", "P", "PA"}:
        return picture.convert("RGBA" if picture.has_transparency_data else "RGB")
    return picture


def _plain(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """Return a new picture of sRGB pixels on white paper, with nothing else of the old one."""
    if profile and picture.mode in {"RGB", "CMYK"}:
        picture = _in_srgb(picture, profile)
    clean = Image.new("RGB", picture.size, "white")
    if picture.has_transparency_data:
        picture = picture.convert("RGBA")
        clean.paste(picture, mask=picture)
    else:
        clean.paste(picture.convert("RGB"))
    return clean


def _in_srgb(picture: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(BytesIO(profile))
        converted = ImageCms.profileToProfile(picture, source, SRGB, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):  # a broken profile: the pixels are good all the same
        return picture
    return converted or picture


def _sizes(picture: Image.Image) -> dict[str, bytes]:
    found = {}
    for name, longest in sorted(SIZES.items(), key=lambda size: -size[1]):
        picture.thumbnail((longest, longest))
        found[name] = _webp(picture)
    return found


def _webp(picture: Image.Image) -> bytes:
    out = BytesIO()
    picture.save(out, "WEBP", quality=QUALITY)
    return out.getvalue()


def _taken(picture: Image.Image) -> datetime | None:
    exif = picture.getexif().get_ifd(EXIF)
    for clock, offset in TIMES:
        found = read_time(exif.get(clock), exif.get(offset))
        if found:
            return found
    return None


def read_time(clock: object, offset: object = None) -> datetime | None:
    """Return what a camera's clock said, with its offset where it is named; none when it was never set.

    >>> read_time("2026:03:14 09:30:00", "-04:00").isoformat()
    '2026-03-14T09:30:00-04:00'
    >>> read_time("0000:00:00 00:00:00") is None
    True
    """
    try:
        wall = datetime.strptime(str(clock)[:19], "%Y:%m:%d %H:%M:%S")  # noqa: DTZ007 - the offset has its own tag
    except ValueError:
        return None
    if not FIRST_YEAR <= wall.year <= LAST_YEAR:
        return None
    east = OFFSET.match(offset) if isinstance(offset, str) else None
    if east is None or int(east[2]) > 14:
        return wall
    span = timedelta(hours=int(east[2]), minutes=int(east[3]))
    return wall.replace(tzinfo=timezone(span if east[1] == "+" else -span))


def _refuse_by_head(head: bytes) -> None:
    if not head:
        raise PictureError("This file is empty. Open the photo once on the phone, then send it again.")
    if head[4:8] == b"ftyp" and head[8:12] in HEIF_BRANDS and "HEIF" not in READABLE:
        raise PictureError(
            "This is a HEIC photo, which cannot be read here. Set the camera of the phone to JPEG (“most compatible”), "
            "or save a copy of the photo as JPEG, and send that."
        )
    text = head.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if not text.startswith(b"<") and not _is_text(head):
        return
    if b"<svg" in text:
        raise PictureError(f"This is a drawing (SVG), not a photo. Save it as PNG and send that. Taken are {KINDS}.")
    raise PictureError(f"This is text, not a photo, whatever its name says. Taken are {KINDS}.")


def _is_text(head: bytes) -> bool:
    try:
        text = head.decode("utf-8")
    except UnicodeDecodeError as error:
        if error.start < len(head) - 3 or error.start < 4:
            return False
        text = head[: error.start].decode("utf-8")
    return all(character.isprintable() or character in "\t\r\n\f" for character in text)


@contextmanager
def _said_plainly() -> Iterator[None]:
    """Turn whatever a decoder raises on a broken or hostile file into one sentence."""
    try:
        yield
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise PictureError(
            f"This picture is too large: at most {MOST_PIXELS // 1_000_000} million pixels. Send a smaller copy."
        ) from None
    except UnidentifiedImageError:
        raise PictureError(f"This is not a photo that can be read here. Taken are {KINDS}.") from None
    except Exception as error:
        log.info("a picture could not be read: %r", error)
        raise PictureError(
            "This photo is broken or was cut off on the way: only part of it can be read. Send it once more."
        ) from None
