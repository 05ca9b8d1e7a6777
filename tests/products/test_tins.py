"""The tins of a product: noted, changed, gone, and what is said of them by their age."""

from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.products.models import Product, Tin
from webapp.shops.models import Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@pytest.fixture
def shellac(db: Session, shop: Shop) -> Product:
    found = factories.product(db, shop, "shellac", use="finish")
    found.family = "shellac"
    db.commit()
    return found


def tins(db: Session) -> list[Tin]:
    factories.anew(db)
    return list(db.scalars(select(Tin).order_by(Tin.id)))


def test_a_tin_is_noted_once_by_whoever_stands_before_it(helper: FlaskClient, db: Session, shellac: Product) -> None:
    """SA15: sent twice, stored once."""
    sent = {"opened_on": "2026-02-01", "use_by": "2026-06-03", "batch": "4711", "once": "k"}
    for _ in range(2):
        assert helper.post(f"/products/{shellac.id}/tins/new", data=sent).status_code == 303
    [tin] = tins(db)
    assert (tin.opened_on, tin.use_by, tin.batch, tin.frozen) == (date(2026, 2, 1), date(2026, 6, 3), "4711", False)
    page = helper.get(f"/products/{shellac.id}").text
    assert "Look at its tin" not in helper.get("/products").text
    assert "Opened Sun 1, use by Wed 3 June, batch 4711" in page


def test_an_old_one_fails_on_the_page_of_its_product(owner: FlaskClient, db: Session, shellac: Product) -> None:
    owner.post(f"/products/{shellac.id}/tins/new", data={"opened_on": "2025-01-10"})
    assert "Look at its tin" in owner.get("/products").text
    page = owner.get(f"/products/{shellac.id}").text
    assert '<div class="flag"><p>Opened 13 months ago, and it keeps about 6 months. It will not harden well' in page


def test_frozen_and_mixed_are_told_too(owner: FlaskClient, db: Session, shop: Shop) -> None:
    product = factories.product(db, shop, "waterborne polyurethane", use="finish")
    product.family = "waterborne"
    db.commit()
    owner.post(f"/products/{product.id}/tins/new", data={"mixed_at": "2026-02-03T09:00", "frozen": "y"})
    page = owner.get(f"/products/{product.id}").text
    assert "Mixed 09:00, has been frozen" in page
    assert "It has broken: take another tin." in page


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({}, "Say one thing of it at least"),
        ({"opened_on": "2026-02-04"}, "That day is still to come. Leave it empty"),
        ({"opened_on": "yesterday"}, "Type a day like 2026-02-03."),
        ({"mixed_at": "2026-02-03T15:00"}, "Note it when it is mixed."),
        ({"made_on": "2026-01-02", "use_by": "2026-01-01"}, "made after its last day"),
    ],
)
def test_what_is_wrong_comes_back_with_what_was_typed(
    owner: FlaskClient, db: Session, shellac: Product, typed: dict[str, str], message: str
) -> None:
    page = owner.post(f"/products/{shellac.id}/tins/new", data=typed)
    assert page.status_code == 422
    assert message in page.text
    assert all(f'value="{value}"' in page.text for value in typed.values())
    assert tins(db) == []


def test_two_who_change_a_tin_see_both(owner: FlaskClient, db: Session, shellac: Product) -> None:
    owner.post(f"/products/{shellac.id}/tins/new", data={"opened_on": "2026-02-01", "batch": "1"})
    [tin] = tins(db)
    assert owner.get(f"/tins/{tin.id}/edit").status_code == 200
    assert owner.post(f"/tins/{tin.id}/edit", data={"batch": "2", "version": "1"}).status_code == 303
    late = owner.post(f"/tins/{tin.id}/edit", data={"batch": "3", "version": "1"})
    assert late.status_code == 409
    assert "<td>2</td><td>3</td>" in late.text
    assert owner.post(f"/tins/{tin.id}/edit", data={"version": "2"}).status_code == 422
    assert [one.batch for one in tins(db)] == ["2"]


def test_an_empty_one_is_gone_and_can_come_back(owner: FlaskClient, db: Session, shellac: Product) -> None:
    owner.post(f"/products/{shellac.id}/tins/new", data={"opened_on": "2025-01-10", "batch": "old"})
    [tin] = tins(db)
    for _ in range(2):
        answer = owner.post(f"/tins/{tin.id}/gone")
        assert (answer.status_code, answer.location) == (303, f"/products/{shellac.id}#tins")
    assert [one.gone_on for one in tins(db)] == [date(2026, 2, 3)]
    page = owner.get(f"/products/{shellac.id}").text
    assert "batch old, gone Tue 3" in page
    assert "None noted." in page
    assert owner.post(f"/tins/{tin.id}/gone/delete").status_code == 303
    assert [one.gone_on for one in tins(db)] == [None]


def test_a_stranger_finds_none(stranger: FlaskClient, owner: FlaskClient, db: Session, shellac: Product) -> None:
    owner.post(f"/products/{shellac.id}/tins/new", data={"opened_on": "2026-02-01"})
    [tin] = tins(db)
    assert stranger.get(f"/products/{shellac.id}/tins/new").status_code == 404
    assert stranger.get(f"/tins/{tin.id}/edit").status_code == 404
    for path in (f"/products/{shellac.id}/tins/new", f"/tins/{tin.id}/edit", f"/tins/{tin.id}/gone"):
        assert stranger.post(path, data={"batch": "x"}).status_code == 404
    assert stranger.post(f"/tins/{tin.id}/gone/delete").status_code == 404
