"""Style, scripts and type: kept for ever under the mark of this version, packed where the browser takes it so."""

import gzip
import re
from urllib.parse import urljoin

import pytest
from flask import Flask
from flask.testing import FlaskClient

from webapp.web import static

FOR_EVER = "public, max-age=31536000, immutable"


@pytest.fixture(scope="module")
def visitor(made: Flask) -> FlaskClient:
    return made.test_client()


def address(made: Flask, name: str) -> str:
    with made.test_request_context():
        return static.address(name)


def test_every_file_is_kept_for_ever(made: Flask, visitor: FlaskClient) -> None:
    assert {name.rsplit(".", 1)[1] for name in static.files()} == {"css", "js", "svg", "txt", "woff2"}
    for name, file in static.files().items():
        answer = visitor.get(address(made, name))
        assert (answer.status_code, answer.headers["Cache-Control"]) == (200, FOR_EVER)
        assert answer.data == file.content
        assert "Set-Cookie" not in answer.headers


def test_what_a_file_refers_to_is_kept_for_ever_as_well(made: Flask, visitor: FlaskClient) -> None:
    """Fonts in a style sheet, scripts in a script: relative, so that they bear the same mark."""
    found = 0
    for name, file in static.files().items():
        if not name.endswith((".css", ".js")):
            continue
        for other in re.findall(r'url\(([^)]+)\)|^import "([^"]+)"', file.content.decode(), re.MULTILINE):
            path = "".join(other)
            answer = visitor.get(urljoin(address(made, name), path))
            assert (answer.status_code, answer.headers["Cache-Control"]) == (200, FOR_EVER), path
            found += 1
    assert found > 5


def test_of_another_version_it_is_asked_for_again(visitor: FlaskClient) -> None:
    """Another process may be of another version: what it sends must not stay under this one's address."""
    answer = visitor.get("/static/0123456789ab/css/base.css")
    assert (answer.status_code, answer.headers["Cache-Control"]) == (200, "no-cache")
    again = visitor.get("/static/0123456789ab/css/base.css", headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_text_is_packed_for_browsers_that_take_it_so(made: Flask, visitor: FlaskClient) -> None:
    for name, accepts, packed in (
        ("css/components.css", "gzip, deflate, br", True),
        ("css/components.css", "gzip;q=0, br", False),
        ("css/components.css", "", False),
        ("fonts/hyperlegible-latin.woff2", "gzip", False),
    ):
        answer = visitor.get(address(made, name), headers={"Accept-Encoding": accepts})
        assert (answer.headers.get("Content-Encoding") == "gzip") is packed, (name, accepts)
        content = gzip.decompress(answer.data) if packed else answer.data
        assert content == static.files()[name].content
        assert ("Vary" in answer.headers) is name.endswith(".css")


@pytest.mark.parametrize("name", ["css/none.css", "../secret", "css", "vendor/../../pyproject.toml"])
def test_what_is_not_there_is_not_found(visitor: FlaskClient, name: str) -> None:
    assert visitor.get(f"/static/{static.mark_of_all()}/{name}").status_code == 404


def test_a_page_cannot_refer_to_a_file_that_is_not_there(made: Flask) -> None:
    with pytest.raises(KeyError):
        address(made, "css/none.css")
