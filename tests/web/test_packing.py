"""Pages packed for the way, but none that another site asked for."""

import gzip

import pytest
from flask import Response
from flask.testing import FlaskClient

from webapp.web.packing import pack

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
TAKES = {"Accept-Encoding": "gzip, deflate"}


def test_a_page_comes_packed_to_who_takes_it_so(owner: FlaskClient) -> None:
    plain, packed = owner.get("/builds/new"), owner.get("/builds/new", headers=TAKES)
    assert packed.headers["Content-Encoding"] == "gzip"
    assert "Content-Encoding" not in plain.headers
    assert "Accept-Encoding" in packed.headers["Vary"]
    assert "Accept-Encoding" in plain.headers["Vary"]
    assert len(packed.data) < 0.5 * len(plain.data)
    assert "<h1>" in gzip.decompress(packed.data).decode()
    assert int(packed.headers["Content-Length"]) == len(packed.data)
    assert owner.head("/builds/new", headers=TAKES).data == b""


@pytest.mark.parametrize(("site", "is_packed"), [("same-origin", True), ("none", True), ("cross-site", False)])
def test_what_another_site_asked_for_is_not_packed(owner: FlaskClient, site: str, is_packed: bool) -> None:
    """By the length of a packed page a site could guess at what stands in it."""
    answer = owner.get("/builds/new", headers={**TAKES, "Sec-Fetch-Site": site})
    assert ("Content-Encoding" in answer.headers) is is_packed


def test_pictures_short_answers_and_streams_are_left_as_they_are(owner: FlaskClient) -> None:
    with owner.application.test_request_context(headers=TAKES):
        for left in (
            Response(b"x" * 5000, mimetype="image/webp"),
            Response("x" * 500, mimetype="text/html"),
            Response((piece for piece in ["x" * 5000]), mimetype="text/csv"),
        ):
            assert "Content-Encoding" not in pack(left).headers
