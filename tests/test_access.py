"""Who may use which route: nobody, a stranger with a shop of their own, a helper, an owner.

A new route without a row fails. What belongs to another shop does not exist (404); what a role may not do is 403.
"""

import re
from collections.abc import Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop
from webapp.web.guard import HELPER, OWNER, PUBLIC, SIGNED_IN, access_of

ACCESS: dict[str, str] = {}


def endpoints(app: Flask) -> Iterator[tuple[str, str, str]]:
    """Yield (endpoint, method, rule) of every route."""
    for rule in app.url_map.iter_rules():
        for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"}):
            yield rule.endpoint, method, rule.rule


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_every_route_has_a_row_and_every_row_a_route(app: Flask) -> None:
    found = {endpoint for endpoint, _, _ in endpoints(app)}
    assert found - set(ACCESS) == set(), "these routes have no row"
    assert set(ACCESS) - found == set(), "these rows have no route"


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_every_view_is_marked_as_its_row_says(app: Flask) -> None:
    with app.app_context():
        wrong = {name: access_of(name) for name, access in ACCESS.items() if access_of(name) != access}
    assert wrong == {}
