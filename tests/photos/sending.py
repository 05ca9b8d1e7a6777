"""Sending photos in tests: files as a browser sends them, and rows whose files do not matter."""

import hashlib
from datetime import datetime
from io import BytesIO
from itertools import count
from typing import Any

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests.pictures import phone_exif, scene, sent
from webapp.builds.models import Build, Operation
from webapp.photos.models import Photo

number = count(1)
TAKEN = datetime(2026, 2, 3, 14, 0)  # noqa: DTZ001 - a camera's clock, 18 minutes before the tests' now


def jpeg(colour: str = "brown", taken: datetime | None = TAKEN, offset: str = "", **options: Any) -> bytes:
    """A photo as a phone sends it: sideways, with position and clock."""
    picture = scene()
    picture.paste(colour, (150, 120, 250, 180))
    clock = f"{taken:%Y:%m:%d %H:%M:%S}" if taken else ""
    return sent(picture, exif=phone_exif(6, clock, offset), **options).getvalue()


def send(client: FlaskClient, where: str, *files: tuple[str, bytes], json: bool = False, **typed: str) -> TestResponse:
    """Send photos to a build (builds/1) or an operation (operations/1)."""
    data: dict[str, Any] = {**typed, "photos": [(BytesIO(content), name) for name, content in files]}
    headers = {"Accept": "application/json"} if json else {}
    answer = client.post(f"/{where}/photos/new", data=data, headers=headers)
    answer.request.environ["wsgi.input"].close()  # the test client leaves its own file open when much was sent
    return answer


def photo(db: Session, place: Build | Operation, at: datetime, **values: Any) -> Photo:
    """A row of a photo. There are no files behind it."""
    build = place.build if isinstance(place, Operation) else place
    found = Photo(
        **{
            "shop_id": build.shop_id,
            "build_id": build.id,
            "operation_id": place.id if isinstance(place, Operation) else None,
            "sha256": hashlib.sha256(str(next(number)).encode()).hexdigest(),
            "sent_name": "photo.jpg",
            "width": 4032,
            "height": 3024,
            "at": at,
            **values,
        }
    )
    db.add(found)
    db.commit()
    return found


def photos(db: Session) -> list[Photo]:
    """The rows as they stand now: what was read before a request is no longer how it is."""
    db.rollback()
    return list(db.scalars(select(Photo).order_by(Photo.id)))
