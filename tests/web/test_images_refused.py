"""Files that are no photos, broken ones and hostile ones: each refused with one sentence."""

import contextlib
import struct
import subprocess
import sys
import zlib
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from tests.pictures import phone_exif, scene, sent
from webapp.web import images


@pytest.mark.shared
@pytest.mark.parametrize("name", ["pug.heic", "arrow.heic"])
def test_heic_is_answered_with_how_to_send_jpeg(
    sample_photos: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SA03: also where the optional decoder is installed."""
    monkeypatch.setattr(images, "READABLE", images.FORMATS)
    with (sample_photos / "bsd-3-clause" / name).open("rb") as file, pytest.raises(images.PictureError) as refused:
        images.read(file)
    assert "HEIC" in str(refused.value)
    assert "JPEG" in str(refused.value)


def png_header(width: int, height: int) -> bytes:
    """A PNG that says it is large, with next to nothing in it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    content = chunk(b"IDAT", zlib.compress(bytes(100_000)))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + content + chunk(b"IEND", b"")


HALF = sent(scene(2000, 1500)).getvalue()[:40_000]
SVG = b"""<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>"""


@pytest.mark.parametrize(
    ("content", "says"),
    [
        pytest.param(b"", "empty", id="0 bytes"),
        pytest.param(HALF, "cut off", id="half a JPEG"),
        pytest.param(sent(scene()).getvalue()[:200], "cut off", id="a JPEG without pixels"),
        pytest.param(png_header(14_000, 14_000), "60 million", id="196 Mpx"),
        pytest.param(png_header(10_000, 9_000), "60 million", id="90 Mpx, at which Pillow only warns"),
        pytest.param(png_header(9_000, 6_500), "cut off", id="58 Mpx, which may be but is not there"),
        pytest.param("Maße: 1 1/8 in × 40 cm\n".encode() * 600_000, "text", id="12 MB of text"),
        pytest.param(b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic", "JPEG", id="HEIC"),
        pytest.param(bytes(5000), "cannot|not a photo", id="zeros"),
        pytest.param(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n" + bytes(500), "not a photo", id="PDF"),
        pytest.param(sent(scene(), "GIF").getvalue(), "not a photo", id="GIF"),
        pytest.param(sent(scene(), "TIFF").getvalue(), "not a photo", id="TIFF"),
    ],
)
def test_what_is_no_photo_is_refused_in_one_sentence(content: bytes, says: str) -> None:
    """SA03: broken and hostile files."""
    with pytest.raises(images.PictureError, match=says):
        images.read(BytesIO(content))


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (SVG, "SVG"),
        (b"\xef\xbb\xbf" + SVG, "SVG"),
        (b"<html><body><img src=x onerror=alert(1)>", "text"),
        (b"<!doctype html><title>\xe9</title>" + bytes(range(256)), "text"),
        (SVG.decode().encode("utf-16"), "not a photo"),
    ],
)
def test_only_real_pictures_are_taken_whatever_the_name(content: bytes, says: str) -> None:
    """SA18: a drawing with script, a page named .jpg."""
    with pytest.raises(images.PictureError, match=says):
        images.read(BytesIO(content))


def test_a_picture_that_is_also_a_page_comes_out_as_picture_only() -> None:
    """SA18: script behind the end of a JPEG is not carried over."""
    read = images.read(BytesIO(sent(scene()).getvalue() + b"<script>alert(1)</script>"))
    assert all(b"script" not in content for content in read.sizes.values())


@given(st.binary(max_size=400), st.sampled_from(["", "JPEG", "PNG", "WEBP"]), st.integers(0, 400))
def test_no_file_whatever_breaks_the_reader(junk: bytes, kind: str, at: int) -> None:
    """SA03: a picture with junk written over it is read or refused, nothing else."""
    start = sent(Image.new("RGB", (20, 20), "red"), kind, exif=phone_exif(6)).getvalue() if kind else b""
    with contextlib.suppress(images.PictureError):
        assert images.read(BytesIO(start[:at] + junk + start[at + len(junk) :])).sizes


def test_memory_stays_flat(tmp_path: Path) -> None:
    """SA03: the peak of a process that reads a 12 MP photo and then two bombs."""
    (tmp_path / "photo.jpg").write_bytes(sent(scene(4032, 3024)).getvalue())
    (tmp_path / "a.png").write_bytes(png_header(14_000, 14_000))
    (tmp_path / "b.png").write_bytes(png_header(10_000, 9_000))
    script = """
import pathlib, sys
from webapp.web import images
for name in sys.argv[1:]:
    with open(name, "rb") as file:
        try:
            images.read(file)
        except images.PictureError:
            pass
print(next(line for line in pathlib.Path("/proc/self/status").read_text().splitlines() if line.startswith("VmHWM")))
"""
    names = [str(tmp_path / name) for name in ("photo.jpg", "a.png", "b.png")]
    done = subprocess.run([sys.executable, "-c", script, *names], capture_output=True, text=True, check=True)
    assert int(done.stdout.split()[1]) < 90_000  # kB; with the whole photo in memory at once it would be 49,000 more
