"""A product's figures changed: a new version each time."""

from datetime import UTC, datetime
from html import unescape

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.datastructures import MultiDict

from tests import factories
from tests.products.typed import product, varnish
from webapp.products.actions import seed
from webapp.products.models import Figures, Product
from webapp.shops.models import Shop
from webapp.trade.products.families import FAMILIES, USUAL

SEEDED = datetime(2026, 2, 3, tzinfo=UTC)


def made(owner: FlaskClient, db: Session, **values: str) -> Product:
    assert owner.post("/products/new", data=product(**values)).status_code == 303
    db.rollback()
    return db.scalars(select(Product).order_by(Product.id.desc()).limit(1)).one()


def typed_again(page: str) -> MultiDict[str, str]:
    """What a browser would send of a form left as it is."""
    found: MultiDict[str, str] = MultiDict()
    form = page.split('<form method="post" data-keep')[1].split("</form>")[0]
    for tag in form.split("<")[1:]:
        attributes = dict(part.split("=", 1) for part in tag.split(" ") if "=" in part)
        if tag.startswith("input") and ('type="checkbox"' not in tag or " checked" in tag):
            name = attributes["name"].split('"')[1]
            value = tag.split('value="')[1].split('"')[0] if 'value="' in tag else ""
            found.add(name, value)
        elif tag.startswith("select"):
            name = tag.split('name="')[1].split('"')[0]
        elif tag.startswith("option selected"):
            found.add(name, tag.split('value="')[1].split('"')[0])
        elif tag.startswith("textarea"):
            found.add(tag.split('name="')[1].split('"')[0], tag.split(">", 1)[1].strip())
    return MultiDict((name, unescape(value)) for name, value in found.items(multi=True))


def test_a_change_is_a_new_version_and_the_old_one_stays(owner: FlaskClient, db: Session) -> None:
    found = made(owner, db)
    answer = owner.post(f"/products/{found.id}/edit", data=product(version="1", open_minutes="5", why="a new can"))
    assert answer.status_code == 303
    db.rollback()
    assert [figures.data["open_minutes"] for figures in found.figures] == [10, 5]
    assert (found.current.number, found.current.why, found.version) == (2, "a new can", 2)


def test_another_name_alone_is_no_new_version(owner: FlaskClient, db: Session) -> None:
    found = made(owner, db)
    owner.post(f"/products/{found.id}/edit", data=product(version="1", name="dark glue"))
    db.rollback()
    assert (found.name, len(found.figures), found.version) == ("dark glue", 1, 2)


def test_a_change_without_a_reason_is_asked_for_one(owner: FlaskClient, db: Session) -> None:
    found = made(owner, db)
    answer = owner.post(f"/products/{found.id}/edit", data=product(version="1", open_minutes="5"))
    assert answer.status_code == 422
    assert "say why" in answer.text
    db.rollback()
    assert len(found.figures) == 1


@pytest.mark.parametrize("name", [one.name for one in USUAL])
def test_saved_unchanged_nothing_is_new(owner: FlaskClient, db: Session, shop: Shop, name: str) -> None:
    """Every figure of every family goes through the form and back; a rounded °F does not count as a change."""
    seed(db, shop, SEEDED)
    db.commit()
    _saved_unchanged(owner, db, db.scalars(select(Product.id).where(Product.name == name)).one())


def test_so_are_the_families_that_no_shop_begins_with(owner: FlaskClient, db: Session, shop: Shop) -> None:
    seed(db, shop, SEEDED)
    for one in FAMILIES:
        if not one.usual:
            added = Product(shop_id=shop.id, name=one.name, family=one.family, use=one.use)
            added.figures.append(
                Figures(number=1, data=one.data(), source=one.source, at=SEEDED, source_on=SEEDED.date())
            )
            db.add(added)
    db.commit()
    rows = db.execute(select(Product.name, Product.id)).all()
    others = [key for name, key in rows if name not in {one.name for one in USUAL}]
    assert len(others) == len(FAMILIES) - len(USUAL)
    for key in others:
        _saved_unchanged(owner, db, key)


def _saved_unchanged(owner: FlaskClient, db: Session, key: int) -> None:
    data = typed_again(owner.get(f"/products/{key}/edit").text)
    answer = owner.post(f"/products/{key}/edit", data=data)
    assert answer.status_code == 303, answer.text
    db.rollback()
    assert len(db.get_one(Product, key).figures) == 1


def test_the_second_of_two_editors_sees_both(owner: FlaskClient, db: Session) -> None:
    """SA09: told, both shown, nothing typed lost; also where only a row differs."""
    found = made(owner, db)
    owner.post(f"/products/{found.id}/edit", data=product(version="1", stage_0_hours="2", why="cold here"))
    answer = owner.post(f"/products/{found.id}/edit", data=product(version="1", stage_0_hours="3", why="mine"))
    assert answer.status_code == 409
    assert '<th scope="row">Stage 1: after</th><td>2 h</td><td>3</td>' in answer.text
    db.rollback()
    assert len(found.figures) == 2
    owner.post(f"/products/{found.id}/edit", data=product(version="2", stage_0_hours="3", why="mine"))
    db.rollback()
    assert found.current.data["stages"][0]["hours"] == 3


def test_a_new_name_is_followed_where_another_goes_over_it(owner: FlaskClient, db: Session) -> None:
    below = made(owner, db, name="tung oil", family="oil", use="finish")
    owner.post("/products/new", data=varnish(over_0_layer="tung oil", over_0_from="72"))
    owner.post(f"/products/{below.id}/edit", data=product(version="1", name="pure oil", family="oil", use="finish"))
    db.rollback()
    above = db.scalars(select(Product).where(Product.name == "varnish")).one()
    assert above.current.data["recoat_over"] == {"pure oil": [{"from_hours": 72}]}
    assert len(above.figures) == 1


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session) -> None:
    found = made(owner, db)
    answer = owner.post(
        f"/products/{found.id}/edit", data=product(version="1", stage_4_name="new", stage_4_hours="soon")
    )
    assert answer.status_code == 422
    assert 'value="soon"' in answer.text


def test_a_helper_may_not(helper: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    assert helper.get(f"/products/{found.id}/edit").status_code == 403
    assert helper.post(f"/products/{found.id}/edit", data=product(version="1")).status_code == 403


def test_a_stranger_finds_nothing(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop)
    assert stranger.get(f"/products/{found.id}/edit").status_code == 404
    assert stranger.post(f"/products/{found.id}/edit", data=product(version="1")).status_code == 404
