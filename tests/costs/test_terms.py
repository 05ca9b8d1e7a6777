"""The price of a build."""

from decimal import Decimal

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import parts_of, terms
from webapp.builds.models import Build
from webapp.costs.models import Payment, Terms
from webapp.shops.models import Shop


def only(db: Session) -> Terms:
    db.rollback()  # a new look
    return db.scalars(select(Terms)).one()


def part(db: Session, build: Build, percent: int, amount: int, **values: object) -> None:
    position = len(parts_of(db, build))
    place = {"shop_id": build.shop_id, "build_id": build.id, "position": position}
    db.add(Payment(**place, name=f"part {position}", percent=Decimal(percent), amount_minor=amount, **values))
    db.commit()


def test_a_price_is_set(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    data = {"price_minor": "8,400.00", "consumables_percent": "5"}
    answer = owner.post(f"/builds/{build.id}/terms/edit", data=data)
    assert answer.location == f"/builds/{build.id}/costs"
    assert (only(db).price_minor, only(db).consumables_percent) == (840000, 5)


def test_the_form_shows_what_is_set(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    terms(db, build, 840000, consumables_minor=2500)
    page = owner.get(f"/builds/{build.id}/terms/edit").text
    assert 'value="8400.00"' in page
    assert 'value="25.00"' in page


@pytest.mark.parametrize(
    ("field", "typed"),
    [("price_minor", "1.234,56"), ("price_minor", "lots"), ("consumables_percent", "101"), ("price_minor", "1e5")],
)
def test_what_cannot_be_read_is_said_and_stays(
    owner: FlaskClient, db: Session, shop: Shop, field: str, typed: str
) -> None:
    """SA07: a clear message beside the field; what was typed is still there."""
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/terms/edit", data={field: typed})
    assert answer.status_code == 422
    assert f'id="{field}-wrong"' in answer.text
    assert f'value="{typed}"' in answer.text
    assert db.scalars(select(Terms)).first() is None


def test_a_percentage_or_a_sum_not_both(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA26: consumables are one percentage or a flat sum."""
    build = factories.build(db, shop)
    data = {"consumables_percent": "5", "consumables_minor": "20"}
    assert "not both" in owner.post(f"/builds/{build.id}/terms/edit", data=data).text


def test_the_second_of_two_editors_sees_both(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: told, both shown, nothing typed lost."""
    build = factories.build(db, shop)
    terms(db, build, 100000)
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": "1100"})
    answer = owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": "1200"})
    assert answer.status_code == 409
    assert "<td>1100.00</td><td>1200</td>" in answer.text
    assert only(db).price_minor == 110000


def test_the_first_price_from_two_pages_at_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: both pages were opened before there was a price."""
    build = factories.build(db, shop)
    owner.post(f"/builds/{build.id}/terms/edit", data={"price_minor": "1100"})
    assert owner.post(f"/builds/{build.id}/terms/edit", data={"price_minor": "1200"}).status_code == 409
    assert only(db).price_minor == 110000


def test_open_parts_follow_the_price(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA20: 733.33 / 2,933.33 / 1,833.33 / 1,833.34."""
    build = factories.build(db, shop)
    terms(db, build)
    for percent in (10, 40, 25, 25):
        part(db, build, percent, 0)
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": "7333.33"})
    assert [one.amount_minor for one in parts_of(db, build)] == [73333, 293333, 183333, 183334]


def test_what_came_in_stays_when_the_price_changes(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA20: the rest is shared so that the sum is the new price."""
    build = factories.build(db, shop)
    terms(db, build)
    part(db, build, 10, 84000, paid_on=factories.LONG_AGO.date())
    part(db, build, 90, 756000)
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": "9000"})
    assert [one.amount_minor for one in parts_of(db, build)] == [84000, 816000]


def test_a_price_changed_when_all_came_in_gets_a_part_of_its_own(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA20: the sum stays the price."""
    build = factories.build(db, shop)
    terms(db, build, 840000)
    part(db, build, 100, 840000, paid_on=factories.LONG_AGO.date())
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": "8500"})
    found = parts_of(db, build)
    assert [(one.name, one.amount_minor) for one in found] == [("part 0", 840000), ("Change of price", 10000)]
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "2", "price_minor": "8300"})
    assert [one.amount_minor for one in parts_of(db, build)] == [840000, -10000]


def test_a_price_that_is_split_cannot_be_taken_away(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    terms(db, build)
    part(db, build, 100, 840000)
    answer = owner.post(f"/builds/{build.id}/terms/edit", data={"version": "1", "price_minor": ""})
    assert answer.status_code == 422
    assert "Give the new price" in answer.text


def test_sent_twice_is_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the answer was lost, the same is sent again: told, and there is one price."""
    build = factories.build(db, shop)
    data = {"version": "", "price_minor": "1100"}
    owner.post(f"/builds/{build.id}/terms/edit", data=data)
    owner.post(f"/builds/{build.id}/terms/edit", data=data)
    assert only(db).price_minor == 110000


def test_a_helper_may_not(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert helper.get(f"/builds/{build.id}/terms/edit").status_code == 403
    assert helper.post(f"/builds/{build.id}/terms/edit", data={"price_minor": "1"}).status_code == 403


def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert stranger.get(f"/builds/{build.id}/terms/edit").status_code == 404
    assert stranger.post(f"/builds/{build.id}/terms/edit", data={"price_minor": "1"}).status_code == 404
