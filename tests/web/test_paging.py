"""Older and newer pages of long lists."""

import html
import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop


@pytest.mark.parametrize("asked", ["endpoint=x", "_method=POST", "_external=1&_scheme=javascript", "_anchor=a&page=1"])
def test_what_else_the_address_says_stays_what_it_is(owner: FlaskClient, db: Session, shop: Shop, asked: str) -> None:
    for number in range(21):
        factories.build(db, shop, f"Stool {number}")
    page = owner.get(f"/builds?{asked}")
    assert page.status_code == 200
    [onward] = re.findall(r'rel="next" href="([^"]*)"', page.text)
    assert html.unescape(onward) == f"/builds?{asked.replace('&page=1', '')}&page=2"
    assert 'rel="prev"' in owner.get(html.unescape(onward)).text


@pytest.mark.parametrize("number", ["-1", "0", "x", "9" * 5000])
def test_a_number_that_is_no_page_is_one(owner: FlaskClient, db: Session, shop: Shop, number: str) -> None:
    factories.build(db, shop, "Stool")
    assert owner.get(f"/builds?page={number}").status_code == 200
