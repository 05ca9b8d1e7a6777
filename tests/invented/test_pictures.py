"""The whole invented shop, all pictures drawn: slow, so once only, and its time is printed."""

import time

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.invented.drawings.album import PICTURES, SKETCHES
from webapp.photos.models import Photo
from webapp.web.files import store


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_every_piece_has_its_pictures(app: Flask, nobody: FlaskClient, db: Session) -> None:
    app.config["INVENTED_PICTURES"] = None
    begun, worked = time.perf_counter(), time.process_time()
    assert nobody.post("/invented", data={"time_zone": "Europe/Oslo"}).status_code == 303
    print(f"put up in {time.perf_counter() - begun:.1f} s, {time.process_time() - worked:.1f} s of work")
    photos = db.scalars(select(Photo)).all()
    assert len(photos) == len(PICTURES) + len(SKETCHES)
    assert {photo.build_id for photo in photos if photo.is_cover} == set(db.scalars(select(Build.id)))
    with app.app_context():
        assert all(store().exists(f"{photo.sha256}.large.webp") for photo in photos)
