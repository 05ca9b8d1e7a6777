"""What a request may carry: forms that cannot be read, and forms that are too long to be."""

import pytest
from flask import Flask, request
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Equipment

FORM = "application/x-www-form-urlencoded"
PARTS = "multipart/form-data; boundary=x"
CUT = b'--x\r\nContent-Disposition: form-data; name="name"\r\n\r\nlong clamps'

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (b"name=\xe9&count=2", FORM),
        ("name=Ash&count=2".encode("utf-16"), FORM + "; charset=utf-16"),
        (CUT, PARTS),
        (CUT, "multipart/form-data"),
        (CUT, 'multipart/form-data; boundary="é"'),
    ],
)
@pytest.mark.parametrize("tokens", [True, False])
def test_a_form_that_cannot_be_read_is_said_to_be_so(
    app: Flask, owner: FlaskClient, db: Session, body: bytes, kind: str, tokens: bool
) -> None:
    """It is not taken for an empty one, nor for a page that was open too long."""
    app.config["WTF_CSRF_ENABLED"] = tokens
    answer = owner.post("/shop/equipment", data=body, content_type=kind)
    assert answer.status_code == 400
    assert "That could not be read" in answer.text
    factories.anew(db)
    assert db.scalar(select(Equipment.id)) is None


@pytest.mark.parametrize("body", [b"a=" + b"x" * 9_000_000, b"&" * 3000, b"a&" * 2001, b"name=x&" * 2001])
def test_a_form_without_files_has_limits_too(owner: FlaskClient, body: bytes) -> None:
    """SA04: the framework would read 300 MB of it into memory."""
    answer = owner.post("/shop/equipment", data=body, content_type=FORM)
    assert answer.status_code == 413
    assert "Too much at once" in answer.text


def test_nothing_beyond_the_limit_is_read(app: Flask, owner: FlaskClient) -> None:
    class Endless:
        sent = 0

        def read(self, size: int = -1) -> bytes:
            assert size > 0, "all of it was asked for at once"
            self.sent += size
            return b"x" * size

    stream = Endless()
    environ = {"wsgi.input": stream, "CONTENT_LENGTH": str(290 * 1024 * 1024), "CONTENT_TYPE": FORM}
    answer = owner.post("/shop/equipment", environ_overrides=environ)
    assert answer.status_code == 413
    assert stream.sent < app.config["MAX_FORM_MEMORY_SIZE"] + 200_000


def test_a_part_without_a_name_is_left_out(app: Flask) -> None:
    head = b"--x\r\nContent-Disposition: form-data"
    parts = (b"\r\n\r\nnameless", b'; filename="a.jpg"\r\n\r\npixels', b'; name="name"\r\n\r\nlong clamps')
    body = b"\r\n".join(head + part for part in parts) + b"\r\n--x--\r\n"
    with app.test_request_context("/", method="POST", data=body, content_type=PARTS):
        assert list(request.form.items(multi=True)) == [("name", "long clamps")]
        assert list(request.files) == []


def test_what_is_no_form_is_not_called_one(app: Flask, owner: FlaskClient) -> None:
    app.config["WTF_CSRF_ENABLED"] = True
    answer = owner.post("/shop/equipment", json={"name": "press"})
    assert answer.status_code == 400
    assert "That could not be read" in answer.text
    kept = owner.post("/shop/equipment", data={"name": "press"})
    assert kept.status_code == 400
    assert "What you typed is here" in kept.text


def test_bytes_in_an_address_that_are_no_text_break_nothing(nobody: FlaskClient) -> None:
    """Sent as they are, not as %E9: browsers do not, programs do."""
    answer = nobody.get("/builds", environ_overrides={"QUERY_STRING": "q=\xe9\xff"})
    assert answer.status_code == 303
