"""Files that nobody should have sent: one sentence that names the place, nothing stored, never a broken page."""

import html
import re
import resource
import struct
from collections.abc import Callable
from io import BytesIO
from zipfile import ZIP_BZIP2, ZIP_DEFLATED, ZipFile

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.exports.sample import ONE_DATABASE, put
from tests.exports.test_imports import count
from webapp.exports.reading import MOST_PARTS
from webapp.shops.models import Shop

DEEP = "[" * 100_000
OF_A_BUILD = '{"format": "benchtide build", "number": 1, "currency": "EUR", "builds": %s}'
NOT_A_FILE: dict[str, tuple[bytes, str]] = {
    "nothing": (b"", "This is empty"),
    "blanks": (b" \n", "This is empty"),
    "text": (b"hello", "This is not JSON: Expecting value, line 1 column 1"),
    "a picture": (b"\x89PNG\r\n\x1a\n\0\0", "This is not text in UTF-8 (byte 0)"),
    "UTF-16": ("{}".encode("utf-16"), "This is not text in UTF-8"),
    "a list": (b"[]", "not a shop or a build"),
    "another program's": (b'{"format": "recipes"}', "format: this is not a file of Benchtide"),
    "a planner's": (b'{"benchtide": 1, "now": ""}', "a shop document for planning"),
    "of a newer one": (b'{"format": "benchtide shop", "number": 3, "version": "9.9"}', "Benchtide (9.9, format 3)"),
    "of no number": (b'{"format": "benchtide shop", "number": true}', "number: the format has a number here"),
    "nested": (f'{{"a": {DEEP}'.encode(), "nested too deeply"),
    "nested a little": ((OF_A_BUILD % ("[" * 20 + "]" * 20)).encode(), "nested too deeply"),
    "NaN": ((OF_A_BUILD % '[{"weight": NaN}]').encode(), "NaN is no number"),
    "without end": ((OF_A_BUILD % '[{"weight": 1e999}]').encode(), "builds[0].weight: this is not a finite number"),
    "a number of 5000 digits": ((OF_A_BUILD % ("9" * 5000)).encode(), "This is not JSON"),
    "twice": ((OF_A_BUILD % '[{"name": "a", "name": "b"}]').encode(), "builds[0].name: this key stands here twice"),
    "half a letter": ((OF_A_BUILD % '[{"name": "\\ud800"}]').encode(), "builds[0].name: this is empty"),
    "a million lists": (b"[" + b"[]," * MOST_PARTS + b"[]]", "more rows than Benchtide takes"),
    "no build": ((OF_A_BUILD % "[]").encode(), "builds: 0 stand here"),
    "no list": ((OF_A_BUILD % "{}").encode(), "builds: this is not a list"),
    "no object": ((OF_A_BUILD % "[7]").encode(), "builds[0]: 7 is not an object"),
}  # fmt: skip


def said(text: str) -> str:
    found = re.search(r'id="file-wrong">(.*?)</p>', text)
    return html.unescape(found[1]) if found else ""


@ONE_DATABASE
@pytest.mark.parametrize("name", NOT_A_FILE)
def test_what_is_no_file_of_ours_is_told_so(name: str, owner: FlaskClient, db: Session) -> None:
    content, wanted = NOT_A_FILE[name]
    answer = put(owner, content)
    assert answer.status_code == 422
    assert wanted in said(answer.text)
    assert count(db, Shop) == 1


def archive(*files: tuple[str, bytes], how: int = ZIP_DEFLATED) -> bytes:
    out = BytesIO()
    with ZipFile(out, "w", how) as found:
        for name, content in files:
            found.writestr(name, content)
    return out.getvalue()


def many_names() -> bytes:
    """An archive that says it holds half a million files."""
    entry = struct.pack("<4s6H3L5H2L", b"PK\1\2", 20, 20, 0, 0, 0, 33, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0) + b"a"
    names = entry * 500_000
    return names + struct.pack("<4s4H2LH", b"PK\5\6", 0, 0, 0xFFFF, 0xFFFF, len(names), 0, 0)


ARCHIVES: dict[str, tuple[Callable[[], bytes], str]] = {
    "cut off": (lambda: archive(("benchtide.json", b"{}"))[:-8], "broken or was cut off"),
    "nothing in it": (lambda: archive(), "does not hold one benchtide.json"),
    "something else": (lambda: archive(("../../etc/passwd", b"x"), ("/abs", b"x")), "does not hold one benchtide.json"),
    "a backup": (lambda: archive(("manifest.json", b"{}")), "a backup of a whole server"),
    "a bomb": (lambda: archive(("benchtide.json", b" " * (80 << 20))), "longer than 64 MB"),
    "packed otherwise": (lambda: archive(("benchtide.json", b"{}"), how=ZIP_BZIP2), "packed in a way"),
    "damaged": (lambda: archive(("benchtide.json", b"{}")).replace(b"benchtide.js", b"benchtide.JS", 1), "is broken"),
    "half a million names": (many_names, "broken or was cut off"),
}  # fmt: skip


@ONE_DATABASE
@pytest.mark.parametrize("name", ARCHIVES)
def test_an_archive_that_is_not_ours_is_told_so(name: str, owner: FlaskClient, db: Session) -> None:
    made, wanted = ARCHIVES[name]
    content = made()
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    answer = put(owner, content, "a.zip")
    assert answer.status_code == 422
    assert wanted in said(answer.text)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 300 << 10  # kilobytes
    assert count(db, Shop) == 1
