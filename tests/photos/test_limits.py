"""Large sendings through the real server, as it is set up when it serves."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from io import BytesIO

import pytest
import waitress
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session
from werkzeug.datastructures import FileStorage
from werkzeug.test import stream_encode_multipart

from tests import factories
from tests.photos.sending import jpeg, photos
from webapp.shops.models import Shop

MEGABYTE = 1024 * 1024
CHUNK = 1 << 18

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@contextmanager
def served(app: Flask) -> Iterator[int]:
    """The port of a server that runs meanwhile."""
    largest = 2 * app.config["MAX_CONTENT_LENGTH"]
    server = waitress.create_server(app, host="127.0.0.1", port=0, threads=2, max_request_body_size=largest)
    thread = threading.Thread(target=server.run)
    thread.start()
    try:
        yield server.effective_port
    finally:
        server.trigger.pull_trigger(server.close)
        thread.join(10)
        server.task_dispatcher.shutdown()


def post(client: FlaskClient, port: int, address: str, files: list[tuple[str, bytes]]) -> tuple[int, str]:
    """Send as a browser does, in pieces, and return the answer's status and its page."""
    photos = [FileStorage(BytesIO(content), name) for name, content in files]
    stream, length, boundary = stream_encode_multipart({"caption": "All of today", "photos": photos})
    cookie = client.get_cookie("benchtide")
    assert cookie is not None
    connection = HTTPConnection("127.0.0.1", port, timeout=60)
    connection.putrequest("POST", address)
    connection.putheader("Content-Type", f'multipart/form-data; boundary="{boundary}"')
    connection.putheader("Content-Length", str(length))
    connection.putheader("Cookie", f"benchtide={cookie.value}")
    connection.endheaders()
    with stream:
        while chunk := stream.read(CHUNK):
            connection.send(chunk)
    answer = connection.getresponse()
    found = answer.status, answer.read().decode()
    connection.close()
    return found


def padded(number: int, megabytes: int) -> tuple[str, bytes]:
    """A photo as large as those of phones, which put a film behind the picture."""
    return f"IMG_{number}.jpg", jpeg() + number.to_bytes(4, "big") + bytes(megabytes * MEGABYTE)


def test_twenty_photos_of_8_mb_fit(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA04: within the limit as it is set without anybody setting it."""
    address = f"/builds/{factories.build(db, shop).id}/photos/new"
    with served(app) as port:
        status, _ = post(owner, port, address, [padded(number, 8) for number in range(20)])
    assert status == 303
    found = photos(db)
    assert len(found) == 20
    assert {photo.caption for photo in found} == {"All of today"}


def test_a_body_over_the_limit_gets_a_page_not_a_reset(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA04: the server takes it in to the end, then says what to do; the next request is answered as ever."""
    app.config["MAX_CONTENT_LENGTH"] = 5 * MEGABYTE
    address = f"/builds/{factories.build(db, shop).id}/photos/new"
    with served(app) as port:
        status, page = post(owner, port, address, [padded(number, 3) for number in range(3)])
        assert status == 413
        assert "Too much at once" in page
        assert "Benchtide" in page
        assert post(owner, port, address, [padded(1, 3)])[0] == 303
    assert len(photos(db)) == 1
