"""The invented shop without its pictures: drawing them takes seconds. Who needs one asks for `pictures` first."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.shops.models import Shop


@pytest.fixture
def app(app: Flask) -> Flask:
    app.config["INVENTED_PICTURES"] = 0
    return app


@pytest.fixture
def pictures(app: Flask) -> int:
    """Let the invented shop have so many pictures."""
    app.config["INVENTED_PICTURES"] = 1
    return 1


@pytest.fixture
def looker(app: Flask) -> FlaskClient:
    """The very first visitor, who chose to look round."""
    client = app.test_client()
    assert client.post("/invented", data={"time_zone": "Europe/Oslo"}).status_code == 303
    return client


@pytest.fixture
def invented(looker: FlaskClient, db: Session) -> Shop:
    return db.scalars(select(Shop).where(Shop.is_invented)).one()
