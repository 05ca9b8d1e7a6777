"""Who may use which route: nobody, a stranger with a shop of their own, a helper, an owner.

A new route without a row in tests/access_table.py fails. What belongs to another shop does not exist (404); what a role
may not do is 403.
"""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.routing import Rule

from tests import factories
from tests.access_table import ACCESS
from webapp.builds.models import Part
from webapp.costs.models import Payment
from webapp.people.models import SignIn
from webapp.photos.models import Photo
from webapp.shops.models import Closed, Equipment, Extra, Rate, Reading, Room, Shop
from webapp.stock.models import Material
from webapp.web.guard import HELPER, OWNER, PUBLIC, SIGNED_IN, access_of

FEB3 = date(2026, 2, 3)
NOW = datetime(2026, 2, 3, 15, tzinfo=UTC)
SAFE = {"GET"}
# these lead on by design: a choice that is not there, a form whose page is another
LEADS_ON = {
    "shops.start",
    "people.welcome",
    "people.sign_in",
    "costs.payments.edit",
    "photos.shift",
    "photos.picture",
    "journal.shop_time.stopped",
}
NOT_SWEPT = {"static", "people.sign_out", "people.sign_ins.delete_all", "invented.create", "invented.delete"}


@pytest.fixture
def values(db: Session, shop: Shop, owner: FlaskClient) -> dict[str, Any]:
    """One row of everything that has an address, by the name its address has for it."""
    build = factories.build(db, shop)
    operation = factories.operation(db, build)
    ada = factories.maker(db, shop, "Ada")
    rows: dict[str, Any] = {
        "part_id": Part(shop_id=shop.id, build_id=build.id, position=1, name="rail"),
        "photo_id": Photo(
            shop_id=shop.id, build_id=build.id, sha256="0" * 64, sent_name="a.jpg", width=4, height=3, at=NOW
        ),
        "material_id": Material(
            shop_id=shop.id, build_id=build.id, kind="wood", name="ash", quantity=Decimal(1), unit="bd ft",
            unit_price=Decimal(1), total_minor=100, bought_on=FEB3,
        ),
        "payment_id": Payment(
            shop_id=shop.id, build_id=build.id, position=0, name="all", percent=Decimal(100), amount_minor=0
        ),
        "rate_id": Rate(maker_id=ada.id, from_on=FEB3, hour_minor=100),
        "shops.closed": Closed(shop_id=shop.id, first_on=FEB3, last_on=FEB3),
        "shops.extra": Extra(shop_id=shop.id, on_day=FEB3, opens=60, closes=120),
        "shops.equipment": Equipment(shop_id=shop.id, name="press", count=1),
        "shops.rooms": Room(shop_id=shop.id, name="Loft"),
        "shops.readings": Reading(shop_id=shop.id, at=NOW, temperature=20.0),
    }  # fmt: skip
    db.add_all(rows.values())
    db.commit()
    found = {name: row.id for name, row in rows.items()}
    sign_in = db.scalars(select(SignIn.id).where(SignIn.person_id == ada.person_id)).one()
    helper = factories.maker(db, shop, "Dora", HELPER, signs_in=False)
    return found | {
        "build_id": build.id,
        "operation_id": operation.id,
        "product_id": factories.product(db, shop).id,
        "entry_id": factories.entry(db, ada, "started", NOW, on=operation).id,
        "size": "small",
        "people.sign_ins": sign_in,
        "shops.enter": shop.id,
        "shops.makers": helper.id,
        "shops.maker_hours": helper.id,
        "shops.rates": ada.id,
        "shops.accounts": helper.id,
    }


def routes(app: Flask, values: dict[str, Any]) -> Iterator[tuple[str, str, str, bool]]:
    """Yield (endpoint, method, address, whether it names a row) of every route that is swept."""
    adapter = app.url_map.bind("localhost")
    for rule in sorted(app.url_map.iter_rules(), key=lambda one: (one.endpoint, one.rule)):
        if rule.endpoint in NOT_SWEPT:
            continue
        for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"}):
            wanted = {name: _value(rule, name, values) for name in rule.arguments}
            yield rule.endpoint, method, adapter.build(rule.endpoint, wanted, method), bool(wanted)


def _value(rule: Rule, name: str, values: dict[str, Any]) -> Any:
    if name != "key":
        return values[name]
    return next(value for prefix, value in values.items() if f"{rule.endpoint}.".startswith(f"{prefix}."))


def test_every_route_has_a_row_and_every_row_a_route(app: Flask) -> None:
    found = {rule.endpoint for rule in app.url_map.iter_rules()}
    assert found - set(ACCESS) == set(), "these routes have no row"
    assert set(ACCESS) - found == set(), "these rows have no route"
    with app.app_context():
        assert {name: access_of(name) for name in found} == ACCESS


def test_nobody_is_asked_to_sign_in(app: Flask, nobody: FlaskClient, values: dict[str, Any]) -> None:
    wrong = []
    for endpoint, method, address, _ in routes(app, values):
        answer = nobody.open(address, method=method)
        if ACCESS[endpoint] == PUBLIC:
            right = answer.status_code < 500
        elif method in SAFE:
            right = answer.status_code == 303 and "/sign-in" in answer.location
        else:
            right = answer.status_code == 401
        if not right:
            wrong.append((endpoint, method, answer.status))
    assert wrong == []


def test_what_is_anothers_does_not_exist_for_a_stranger(
    app: Flask, stranger: FlaskClient, values: dict[str, Any]
) -> None:
    wrong = []
    for endpoint, method, address, names_a_row in routes(app, values):
        if names_a_row and ACCESS[endpoint] != PUBLIC:
            status = stranger.open(address, method=method).status_code
            if status != 404:
                wrong.append((endpoint, method, status))
    assert wrong == []


def test_a_helper_may_not_do_what_is_the_owners(app: Flask, helper: FlaskClient, values: dict[str, Any]) -> None:
    wrong = []
    for endpoint, method, address, _ in routes(app, values):
        status = helper.open(address, method=method).status_code
        if (status == 403) != (ACCESS[endpoint] == OWNER):
            wrong.append((endpoint, method, status))
    assert wrong == []


def test_an_owner_may_see_every_page(app: Flask, owner: FlaskClient, values: dict[str, Any]) -> None:
    wrong = []
    for endpoint, method, address, _ in routes(app, values):
        if method in SAFE and endpoint not in LEADS_ON:
            status = owner.open(address).status_code
            if status != 200:
                wrong.append((endpoint, status))
    assert wrong == []


def test_no_empty_form_breaks_anything(app: Flask, owner: FlaskClient, values: dict[str, Any]) -> None:
    """Each verb sent with nothing in it, by somebody who may: a message or a way on, never a broken page."""
    broken = []
    for endpoint, method, address, _ in routes(app, values):
        if method not in SAFE:
            status = owner.open(address, method=method).status_code
            if status >= 500:
                broken.append((endpoint, status))
    assert broken == []


def test_marks_are_one_of_four() -> None:
    assert set(ACCESS.values()) == {PUBLIC, SIGNED_IN, HELPER, OWNER}
