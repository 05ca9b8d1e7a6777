"""Files that are not what their name says, or are too much of it. Made here, small to store and large to read."""

import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, partial
from io import BytesIO

from PIL import Image

from tests import pictures
from tests.hostile.texts import MARK
from tests.hostile.values import BY_KIND

SVG = b'<svg xmlns="http://www.w3.org/2000/svg" onload="bt(1)"><script>bt(1)</script></svg>'
HTML = b"<!doctype html><script>bt(1)</script><img src=x onerror=bt(1)>"
GIF = b"GIF89a/*" + b"\0" * 20 + b"*/=1;bt(1)"


@dataclass(frozen=True)
class Upload:
    """A file as it is sent: the name of the try, the file's name, its claimed type, and how its content is made."""

    name: str
    filename: str
    kind: str
    make: Callable[[], bytes]

    @property
    def content(self) -> bytes:
        return _made(self.make)

    def __str__(self) -> str:
        return f"upload: {self.name}"


@lru_cache(64)
def _made(make: Callable[[], bytes]) -> bytes:
    return make()


def jpeg(**options: object) -> bytes:
    return pictures.sent(pictures.scene(80, 60), **options).getvalue()  # type: ignore[arg-type]


def png(mode: str, size: tuple[int, int] = (60, 40), **options: object) -> bytes:
    out = BytesIO()
    Image.new(mode, size, 1 if mode != "F" else 1.0).save(out, options.pop("kind", "PNG"), **options)  # type: ignore[arg-type]
    return out.getvalue()


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def bomb(width: int, height: int) -> bytes:
    """A PNG of so many pixels, all white, that is small as a file."""
    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    row = b"\0" + b"\xff" * ((width + 7) // 8)
    packer, packed = zlib.compressobj(9), b""
    for _ in range(height):
        packed += packer.compress(row)
    parts = (chunk(b"IHDR", head), chunk(b"IDAT", packed + packer.flush()), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def text_bomb() -> bytes:
    """A PNG with a compressed remark of 60 MB."""
    remark = b"Remark\0\0" + zlib.compress(b"x" * 60_000_000, 9)
    return _in_png(chunk(b"zTXt", remark))


def _in_png(more: bytes) -> bytes:
    whole = png("RGB")
    return whole[:33] + more + whole[33:]


def large_exif() -> bytes:
    exif = pictures.phone_exif(taken="9999:99:99 99:99:99", offset="+99:99")
    exif[0x010E] = "x" * 60_000
    exif[pictures.images.ORIENTATION] = 65_535
    return jpeg(exif=exif)


def broken_exif() -> bytes:
    head = b"Exif\0\0II*\0\x08\0\0\0" + b"\xff" * 300
    whole = jpeg()
    return whole[:2] + b"\xff\xe1" + struct.pack(">H", len(head) + 2) + head + whole[2:]


def moving() -> bytes:
    frames = [Image.new("RGB", (40, 30), colour) for colour in ("red", "green", "blue") * 10]
    out = BytesIO()
    frames[0].save(out, "WEBP", save_all=True, append_images=frames[1:])
    return out.getvalue()


def profile_of_nonsense() -> bytes:
    return jpeg(icc_profile=b"\0" * 200)


KINDS: tuple[tuple[str, str, str, Callable[[], bytes]], ...] = (
    ("nothing in it", "a.jpg", "image/jpeg", bytes),
    ("drawing with script", "a.svg", "image/svg+xml", lambda: SVG),
    ("drawing named jpg", "a.jpg", "image/jpeg", lambda: SVG),
    ("page named jpg", "a.jpg", "image/jpeg", lambda: HTML),
    ("page of its own type", "a.html", "text/html", lambda: HTML),
    ("script named gif", "a.gif", "image/gif", lambda: GIF),
    ("photo and page", "a.html", "text/html", lambda: jpeg() + HTML),
    ("photo and archive", "a.zip", "application/zip", lambda: jpeg() + b"PK\x05\x06" + b"\0" * 18),
    ("cut in half", "a.jpg", "image/jpeg", lambda: jpeg()[: len(jpeg()) // 2]),
    ("head only", "a.png", "image/png", lambda: png("RGB")[:20]),
    ("one byte", "a.jpg", "image/jpeg", lambda: b"\xff"),
    ("noise", "a.jpg", "image/jpeg", lambda: bytes(range(256)) * 400),
    ("a program", "a.exe", "application/x-msdownload", lambda: b"MZ" + b"\0" * 3000),
    ("64 million pixels", "a.png", "image/png", partial(bomb, 8000, 8000)),
    ("one pixel high", "a.png", "image/png", partial(bomb, 100_000, 1)),
    ("remark of 60 MB", "a.png", "image/png", text_bomb),
    ("many remarks", "a.png", "image/png", lambda: _in_png(chunk(b"tEXt", b"a\0b") * 3000)),
    ("moving", "a.webp", "image/webp", moving),
    ("CMYK", "a.jpg", "image/jpeg", lambda: png("CMYK", kind="JPEG")),
    ("16 bits", "a.png", "image/png", lambda: png("I;16")),
    ("one bit", "a.png", "image/png", lambda: png("1")),
    ("palette", "a.png", "image/png", lambda: png("P", transparency=0)),
    ("grey with transparency", "a.png", "image/png", lambda: png("LA")),
    ("floats", "a.tif", "image/tiff", lambda: png("F", kind="TIFF")),
    ("one pixel", "a.png", "image/png", lambda: png("RGB", (1, 1))),
    ("gigantic remarks of the camera", "a.jpg", "image/jpeg", large_exif),
    ("broken remarks of the camera", "a.jpg", "image/jpeg", broken_exif),
    ("profile of nonsense", "a.jpg", "image/jpeg", profile_of_nonsense),
    ("many dots", "a.jpg." * 200, "image/jpeg", jpeg),
    ("no type", "a.jpg", "", jpeg),
    ("a type of nonsense", "a.jpg", "\xff/../" + "x" * 500, jpeg),
    ("no dot", "jpg", "image/jpeg", jpeg),
    ("quotes", 'a".jpg"; name="caption', "image/jpeg", jpeg),
    ("5,000 characters", "n" * 5000 + ".jpg", "image/jpeg", jpeg),
    ("override", "a\u202egpj.exe", "image/jpeg", jpeg),
    ("control characters", "a\r\nX: y\0\x1b.jpg", "image/jpeg", jpeg),
    ("script as a name", "<img src=x onerror=bt(1)>.jpg", "image/jpeg", jpeg),
    ("formula as a name", "=1+1.jpg", "image/jpeg", jpeg),
    ("up and away", f"../../../../tmp/{MARK}.jpg", "image/jpeg", jpeg),
    ("from the root", f"/tmp/{MARK}.jpg", "image/jpeg", jpeg),
    ("of Windows", f"C:\\Windows\\{MARK}.jpg", "image/jpeg", jpeg),
    ("a device", "CON.jpg", "image/jpeg", jpeg),
    ("only dots", "..", "image/jpeg", jpeg),
)  # fmt: skip
UPLOADS = tuple(Upload(*found) for found in KINDS)
NAMES = tuple(value.text for kind in ("direction", "path", "characters") for value in BY_KIND[kind])


def part(field: str, upload: Upload) -> bytes:
    """Return one file as a part of a multipart body, its name as browsers write it: quotes and line ends in hex."""
    name = upload.filename.replace('"', "%22").replace("\r", "%0D").replace("\n", "%0A")
    head = f'Content-Disposition: form-data; name="{field}"; filename="{name}"'
    kind = f"\r\nContent-Type: {upload.kind}" if upload.kind else ""
    return f"{head}{kind}".encode("utf-8", "surrogatepass") + b"\r\n\r\n" + upload.content
