"""The invented shop with two of its pictures: drawing all of them takes seconds, and one test does."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.shops.models import Shop


@pytest.fixture
def app(app: Flask) -> Flask:
    app.config["INVENTED_PICTURES"] = 2
    return app


@pytest.fixture
def looker(app: Flask) -> FlaskClient:
    """The very first visitor, who chose to look round."""
    client = app.test_client()
    assert client.post("/invented", data={"time_zone": "Europe/Oslo"}).status_code == 303
    return client


@pytest.fixture
def invented(looker: FlaskClient, db: Session) -> Shop:
    return db.scalars(select(Shop).where(Shop.is_invented)).one()
