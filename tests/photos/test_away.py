"""A photo store that is away: said in a sentence, and everything else goes on."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import buckets, factories
from tests.faults.servers import free_port
from tests.photos.sending import jpeg, photo, photos, send
from webapp.builds.models import Build
from webapp.settings import Settings
from webapp.shops.models import Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
SAYS = "This photo was not stored: the photo store does not answer."


@pytest.fixture
def settings(settings: Settings) -> Settings:
    """A store at an address where nobody is."""
    aws = (*buckets.KEY, ("AWS_ENDPOINT_URL", f"http://127.0.0.1:{free_port()}"))
    return Settings(instance=settings.instance, photo_store="s3://away", aws=aws)


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def test_each_photo_of_a_sending_is_named_and_the_note_kept(owner: FlaskClient, db: Session, build: Build) -> None:
    """Only the first is tried: a hundred would take minutes."""
    several = [(f"{number}.jpg", jpeg()) for number in range(5)]
    answer = send(owner, f"builds/{build.id}", *several, caption="Curly maple")
    assert answer.status_code == 422
    assert answer.text.count(SAYS) == 5
    assert "Curly maple</textarea>" in answer.text
    assert photos(db) == []


def test_a_picture_that_cannot_be_had_says_why_and_pages_go_on(
    owner: FlaskClient, db: Session, build: Build, app: Flask
) -> None:
    app.testing = False
    one = photo(db, build, build.created_at)
    answer = owner.get(f"/photos/{one.id}/small.webp")
    assert answer.status_code == 503
    assert answer.headers["Retry-After"] == "5"
    assert "This photo cannot be read now: the photo store does not answer." in answer.text
    assert answer.headers["Cache-Control"] == "no-store"
    assert owner.get("/photos").status_code == 200
    assert owner.get(f"/builds/{build.id}").status_code == 200


def test_a_browser_that_has_it_need_not_wait_for_the_store(owner: FlaskClient, db: Session, build: Build) -> None:
    one = photo(db, build, build.created_at)
    mark = f'"{one.sha256[:32]}-small"'
    assert owner.get(f"/photos/{one.id}/small.webp", headers={"If-None-Match": mark}).status_code == 304


def test_the_invented_shop_is_not_put_up_by_half(app: Flask, db: Session) -> None:
    app.testing = False
    app.config["INVENTED_PICTURES"] = 1
    answer = app.test_client().post("/invented", data={"time_zone": "Europe/Oslo"})
    assert answer.status_code == 503
    assert "the photo store does not answer" in answer.text
