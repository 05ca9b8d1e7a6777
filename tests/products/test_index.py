"""The list of glues and finishes."""

from datetime import UTC, datetime

from flask.testing import FlaskClient
from sqlalchemy import event
from sqlalchemy.orm import Session

from tests import factories
from webapp.products.actions import seed
from webapp.shops.models import Shop


def test_an_empty_list_says_what_it_is_for(owner: FlaskClient) -> None:
    page = owner.get("/products").text
    assert "No glue or finish yet" in page
    assert "Add the first product" in page


def test_glues_and_finishes_with_their_main_figures(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.product(db, shop, "yellow PVA", open_minutes=10, lowest=10)
    factories.product(db, shop, "oil", use="finish", stages=[], recoat=[{"from_hours": 24}])
    page = owner.get("/products").text
    assert "open 10 min, out of clamps 1 h, full strength 24 h, not under 50 °F" in page
    assert "next coat from 24 h on" in page
    assert page.index("Glues") < page.index("yellow PVA") < page.index("Finishes") < page.index(">oil<")


def test_what_is_not_used_any_more_lies_behind_a_link(owner: FlaskClient, db: Session, shop: Shop) -> None:
    gone = factories.product(db, shop, "old glue")
    gone.retired = True
    db.commit()
    factories.product(db, shop, "new glue")
    page = owner.get("/products").text
    assert "old glue" not in page
    assert 'href="/products?retired="' in page
    assert "old glue" in owner.get("/products?retired=").text


def test_a_helper_sees_the_list_but_no_button(helper: FlaskClient, db: Session, shop: Shop) -> None:
    factories.product(db, shop, "yellow PVA")
    page = helper.get("/products").text
    assert "yellow PVA" in page
    assert "Add a product" not in page


def test_a_stranger_sees_only_his_own(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    factories.product(db, shop, "yellow PVA")
    assert "yellow PVA" not in stranger.get("/products").text


def test_a_new_shop_starts_with_the_generic_families(owner: FlaskClient, db: Session, shop: Shop) -> None:
    seed(db, shop, datetime(2026, 2, 3, tzinfo=UTC))
    db.commit()
    page = owner.get("/products").text
    for name in ("yellow PVA", "hot hide glue", "shellac", "hardwax oil", "water dye"):
        assert name in page


def test_queries_do_not_grow_with_the_products(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.product(db, shop, "one")
    before = queries(owner, db)
    seed(db, shop, datetime(2026, 2, 3, tzinfo=UTC))
    db.commit()
    assert queries(owner, db) == before


def queries(owner: FlaskClient, db: Session) -> int:
    seen: list[str] = []

    def note(*args: object) -> None:
        seen.append(str(args[2]))

    engine = db.get_bind()
    event.listen(engine, "before_cursor_execute", note)
    owner.get("/products")
    event.remove(engine, "before_cursor_execute", note)
    return len(seen)
