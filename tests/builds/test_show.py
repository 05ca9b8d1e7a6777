from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from tests.builds.test_index import queries
from webapp.builds.models import Build, Hold
from webapp.shops.models import Equipment, Shop


def a_build(db: Session, shop: Shop) -> Build:
    build = factories.build(db, shop, client="Mia", wood="ash", note="no knots", contact="555 0100")
    glue = factories.product(db, shop)
    clamps = Equipment(shop_id=shop.id, name="long clamps", count=8)
    db.add(clamps)
    db.commit()
    mill = factories.operation(db, build, "mill", group="top", minutes=90, low=60, high=120, count=24)
    glue_up = factories.operation(
        db, build, "glue-up", group="top", product_id=glue.id, minutes=40, makers=2, after=[mill]
    )
    glue_up.holds.append(Hold(equipment_id=clamps.id, count=6, until="out of clamps"))
    factories.operation(db, build, "plane", group="base", after=[(glue_up, "full strength")], note="against the grain")
    return build


def test_a_piece_is_shown_with_its_operations_in_words(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = a_build(db, shop)
    page = typed.text(owner.get(f"/builds/{build.id}"))
    assert "In the making · for Mia · ash" in page
    assert "mill · 1 h 30 min (1 h to 2 h) · 24 alike" in page
    assert "glue-up · 40 min · 2 people · yellow PVA · 6 long clamps until out of clamps" in page
    assert "waits for Mill" in page
    assert "waits for Glue-up: full strength" in page
    assert "against the grain" in page
    assert "3 operations, 3 h 10 min" in page
    assert "no knots" in page
    assert "555 0100" in page


def test_a_stage_the_glue_no_longer_has_is_not_promised(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    glue_up = factories.operation(db, build, "glue-up")
    factories.operation(db, build, "plane", after=[(glue_up, "ready to plane")])
    page = typed.text(owner.get(f"/builds/{build.id}"))
    assert "waits for Glue-up" in page
    assert "ready to plane" not in page


def test_an_operation_says_once_what_it_comes_after(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    factories.operation(db, build, "plane", minutes=45, after=[mill])
    page = typed.text(owner.get(f"/builds/{build.id}"))
    assert "about 45 min · after Mill" in page
    assert "Mill is not done" not in page
    assert "Start anyway" in page


def test_much_work_is_said_in_hours(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    factories.operation(db, build, "carve", minutes=59 * 60 + 30)
    assert "1 operation, 59 h 30 min" in typed.text(owner.get(f"/builds/{build.id}"))


def test_an_empty_piece_says_what_comes_here(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    page = helper.get(f"/builds/{build.id}").text
    assert "No operations yet" in page
    assert "No parts yet" in page
    assert f"/builds/{build.id}/operations/new" in page


def test_a_helper_gets_no_buttons_that_are_the_owners(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = a_build(db, shop)
    page = helper.get(f"/builds/{build.id}").text
    assert "Glue-up" in page
    assert f"/builds/{build.id}/edit" not in page
    assert f"/builds/{build.id}/status" not in page
    assert "Make it again" not in page


def test_it_does_not_exist_for_a_stranger(stranger: FlaskClient, nobody: FlaskClient, db: Session, shop: Shop) -> None:
    build = a_build(db, shop)
    assert stranger.get(f"/builds/{build.id}").status_code == 404
    assert stranger.get("/builds/4711").status_code == 404
    assert nobody.get(f"/builds/{build.id}").status_code == 303


def test_queries_do_not_grow_with_the_operations(app: Flask, owner: FlaskClient, db: Session, shop: Shop) -> None:
    engine = app.extensions["sessions"].engine
    build = a_build(db, shop)
    owner.get(f"/builds/{build.id}")
    before = build.operations[-1]
    before = factories.operation(db, build, "one more", after=[before], product_id=before.product_id)
    few = queries(engine, owner, f"/builds/{build.id}")
    for number in range(60):
        before = factories.operation(db, build, f"step {number}", after=[before], product_id=before.product_id)
    assert queries(engine, owner, f"/builds/{build.id}") == few
