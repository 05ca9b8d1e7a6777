"""The people of the shop: added, changed, with a rate, leaving."""

import re
from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import HELPER, Maker, Rate, Shop


def version(client: FlaskClient, key: int) -> str:
    found = re.search(r'name="version" value="(\w+)"', client.get(f"/shop/makers/{key}").text)
    assert found
    return found[1]


def test_a_maker_without_a_sign_in_is_added(owner: FlaskClient, db: Session, shop: Shop) -> None:
    answer = owner.post("/shop/makers", data={"name": "Ben", "role": "helper"})
    factories.anew(db)
    ben = db.scalars(select(Maker).where(Maker.name == "Ben")).one()
    assert answer.location == f"/shop/makers/{ben.id}"
    assert (ben.role, ben.person_id, ben.shop_id) == ("helper", None, shop.id)
    assert "no sign-in" in owner.get("/shop/makers").text


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"name": ""}, "A name, please."),
        ({"name": "Ada"}, "Somebody of that name is on the list already"),
        ({"name": "Ben", "role": "boss"}, "Please choose one of these."),
    ],
)
def test_a_wrong_maker_is_refused(
    owner: FlaskClient, db: Session, shop: Shop, typed: dict[str, str], message: str
) -> None:
    page = owner.post("/shop/makers", data={"role": "helper"} | typed)
    assert page.status_code == 422
    assert message in page.text
    factories.anew(db)
    assert len(shop.makers) == 1


def test_sent_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: a double tap adds one maker."""
    first = owner.post("/shop/makers", data={"name": "Ben", "role": "helper", "once": "k"})
    assert owner.post("/shop/makers", data={"name": "Ben", "role": "helper", "once": "k"}).location == first.location
    factories.anew(db)
    assert len(shop.makers) == 2


def test_name_and_rights_are_changed(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben")
    assert helper.get("/shop").status_code == 403
    data = {"name": "Benjamin", "role": "owner", "version": version(owner, ben.id)}
    assert owner.post(f"/shop/makers/{ben.id}", data=data).status_code == 303
    assert helper.get("/shop").status_code == 200
    assert owner.post(f"/shop/makers/{ben.id}", data=data | {"name": "Late"}).status_code == 409


def test_the_last_owner_stays_owner_and_stays(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    ada = factories.maker(db, shop, "Ada")
    page = owner.post(
        f"/shop/makers/{ada.id}", data={"name": "Ada", "role": "helper", "version": version(owner, ada.id)}
    )
    assert page.status_code == 422
    assert "Somebody has to own the shop" in page.text
    owner.post(f"/shop/makers/{ada.id}/leaving")
    assert owner.get("/shop").status_code == 200


def test_an_owner_without_a_sign_in_does_not_count(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.maker(db, shop, "Silent", signs_in=False)
    ada = factories.maker(db, shop, "Ada")
    owner.post(f"/shop/makers/{ada.id}/leaving")
    assert owner.get("/shop").status_code == 200


def test_a_helper_leaves_and_comes_back(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    assert helper.get("/shop/readings").status_code == 200
    assert owner.post(f"/shop/makers/{ben.id}/leaving").status_code == 303
    assert helper.get("/shop/readings").location == "/start"
    factories.anew(db)
    assert ben.left_on == date(2026, 2, 3)
    assert "left Tue 3" in owner.get("/shop/makers").text
    owner.post(f"/shop/makers/{ben.id}/leaving/delete")
    assert helper.get("/shop/readings").status_code == 200


def rate(client: FlaskClient, key: int, hour: str, day: str) -> int:
    return client.post(f"/shop/makers/{key}/rates", data={"hour": hour, "from_on": day}).status_code


def test_a_rate_holds_from_its_day_on_and_the_old_one_before(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """Labour is costed at the rate of its day: the old rate must stay for the work of then."""
    ada = factories.maker(db, shop, "Ada")
    assert rate(owner, ada.id, "52", "2025-01-01") == 303
    assert rate(owner, ada.id, "58.50", "2026-02-01") == 303
    factories.anew(db)
    days = (date(2024, 12, 31), date(2025, 1, 1), date(2026, 1, 31), date(2026, 2, 1))
    assert [ada.rate_on(day) for day in days] == [None, 5200, 5200, 5850]
    assert "$58.50 an hour" in owner.get("/shop").text


def test_a_second_rate_from_the_same_day_takes_the_place_of_the_first(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    ada = factories.maker(db, shop, "Ada")
    rate(owner, ada.id, "52", "2026-02-01")
    rate(owner, ada.id, "53", "2026-02-01")
    factories.anew(db)
    assert [row.hour_minor for row in ada.rates] == [5300]


def test_a_rate_is_taken_back(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    ada = factories.maker(db, shop, "Ada")
    rate(owner, ada.id, "52", "2025-01-01")
    factories.anew(db)
    row = db.scalars(select(Rate)).one()
    path = f"/shop/makers/{ada.id}/rates/{row.id}/delete"
    assert stranger.post(path).status_code == 404
    assert owner.post(f"/shop/makers/{ada.id}/rates/999999/delete").status_code == 404
    assert owner.post(path).status_code == 303
    factories.anew(db)
    assert db.scalars(select(Rate)).all() == []


@pytest.mark.parametrize(
    ("hour", "day"), [("", "2026-01-01"), ("a lot", "2026-01-01"), ("-5", "2026-01-01"), ("52", "")]
)
def test_a_wrong_rate_is_refused(owner: FlaskClient, db: Session, shop: Shop, hour: str, day: str) -> None:
    ada = factories.maker(db, shop, "Ada")
    page = owner.post(f"/shop/makers/{ada.id}/rates", data={"hour": hour, "from_on": day})
    assert page.status_code == 422
    assert f'value="{hour}"' in page.text
    factories.anew(db)
    assert ada.rates == []


def test_another_shops_maker_does_not_exist(stranger: FlaskClient, owner: FlaskClient, db: Session, shop: Shop) -> None:
    ada = factories.maker(db, shop, "Ada")
    for path in ("", "/rates", "/hours", "/leaving", "/account"):
        assert stranger.post(f"/shop/makers/{ada.id}{path}").status_code == 404
