from datetime import date

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.shops.models import Equipment, Shop


def test_a_piece_is_begun(owner: FlaskClient, db: Session, shop: Shop) -> None:
    sent = typed.build(client="the Larsens", wood="cherry", due_on="2026-03-13", not_before="2026-02-09", weight="4")
    answer = owner.post("/builds", data=sent)
    found = typed.stored(db, Build)[0]
    assert (answer.status_code, answer.location) == (303, f"/builds/{found.id}")
    assert (found.shop_id, found.name, found.client, found.status) == (shop.id, "Hall table", "the Larsens", "agreed")
    assert (found.due_on, found.not_before, found.weight) == (date(2026, 3, 13), date(2026, 2, 9), 4)
    assert "Cherry" not in owner.get(answer.location).text
    assert "for the Larsens · cherry · promised Friday 13 March" in typed.text(owner.get(answer.location))


def test_the_form_asks_for_methods(owner: FlaskClient) -> None:
    page = typed.text(owner.get("/builds/new"))
    for name in ("Edge-glued panel", "Frame and panel", "Table base", "Drawer", "Oil finish", "Film finish"):
        assert name in page


def test_a_blank_piece_has_no_operations(owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/builds", data=typed.build())
    assert len(typed.stored(db, Operation)) == 0
    assert "No operations yet" in owner.get(answer.location or "").text


def test_a_method_lays_out_its_operations_with_what_the_shop_has(owner: FlaskClient, db: Session, shop: Shop) -> None:
    glue = factories.product(db, shop, "our PVA", stages=[{"name": "out of clamps", "hours": 2}])
    glue.family = "pva"
    db.add(Equipment(shop_id=shop.id, name="Long clamps", count=5))
    db.commit()
    owner.post("/builds", data=typed.build(method_edge_glued_panel="y"))
    operations = {one.kind: one for one in typed.stored(db, Build)[0].operations}
    glue_up = operations["glue-up"]
    assert glue_up.product
    assert glue_up.product.name == "our PVA"
    assert [(hold.equipment.name, hold.count, hold.until) for hold in glue_up.holds] == [
        ("Long clamps", 5, "out of clamps")
    ]
    assert glue_up.stages == [{"name": "ready to plane", "hours": 168}]  # the label does not say it
    waits = [(link.waits_for.kind, link.stage) for link in operations["level"].after]
    assert waits == [("glue-up", "ready to plane")]
    assert glue_up.room
    assert glue_up.room.name == "Shop"


def test_a_shop_without_products_can_use_every_method(owner: FlaskClient, db: Session) -> None:
    methods = ["edge_glued_panel", "frame_and_panel", "table_base", "drawer", "oil_finish", "film_finish"]
    answer = owner.post("/builds", data=typed.build(**{f"method_{name}": "y" for name in methods}))
    found = typed.stored(db, Build)[0]
    assert len({one.key for one in found.operations}) == len(found.operations) > 50
    assert found.done_at
    assert found.done_at[0]["stage"] == "light use"
    assert owner.get(answer.location or "").status_code == 200


def test_a_helper_may_not_begin_a_piece(helper: FlaskClient, db: Session) -> None:
    assert helper.get("/builds/new").status_code == 403
    assert helper.post("/builds", data=typed.build()).status_code == 403
    assert not typed.stored(db, Build)


def test_what_was_typed_stays_when_something_is_wrong(owner: FlaskClient, db: Session) -> None:
    sent = typed.build(name=" ", client="Ann & Co", due_on="soon", method_drawer="y")
    answer = owner.post("/builds", data=sent)
    assert answer.status_code == 422
    assert 'value="Ann &amp; Co"' in answer.text
    assert 'value="soon"' in answer.text
    assert "The piece needs a name." in answer.text
    assert "Type a day like 2026-02-03." in answer.text
    assert 'checked id="method_drawer"' in answer.text
    assert not typed.stored(db, Build)


def test_a_promise_before_the_first_day_is_refused(owner: FlaskClient) -> None:
    answer = owner.post("/builds", data=typed.build(due_on="2026-02-03", not_before="2026-02-04"))
    assert answer.status_code == 422
    assert "That is before the day you may begin." in answer.text


def test_sent_twice_is_one_piece(owner: FlaskClient, db: Session) -> None:
    """SA15: the answer got lost, the form is sent again: one build, and the same answer."""
    sent = typed.build(once="0a1b2c", method_oil_finish="y")
    first, second = owner.post("/builds", data=sent), owner.post("/builds", data=sent)
    assert first.location == second.location
    assert len(typed.stored(db, Build)) == 1
    assert len(typed.stored(db, Operation)) == 4


def test_odd_names_are_kept_and_isolated(owner: FlaskClient, db: Session) -> None:
    """SA16: an emoji and Arabic stay, in their own direction; an override goes; 300 characters are refused."""
    for name in ("agpj.table", "😆", "طاولة", "<b>bold</b>"):
        answer = owner.post("/builds", data=typed.build(name=name.replace("gpj", "\u202egpj"), client="نجّار"))
        assert answer.status_code == 303
        page = owner.get(answer.location or "").text
        shown = name.replace("<", "&lt;").replace(">", "&gt;")
        assert f"<h1><bdi>{shown}</bdi></h1>" in page
        assert "<bdi>نجّار</bdi>" in page
    assert len(typed.stored(db, Build)) == 4
    long = owner.post("/builds", data=typed.build(name="x" * 300))
    assert long.status_code == 422
    assert "At most 200 characters, please." in long.text
    assert "x" * 300 in long.text


def test_an_operation_named_with_signs_only_gets_a_key(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA16: a name without letters still makes a key, and each its own."""
    build = factories.build(db, shop)
    for _ in range(2):
        assert owner.post(f"/builds/{build.id}/operations", data=typed.operation(name="😆")).status_code == 303
    assert [one.key for one in typed.stored(db, Operation)] == ["step", "step-2"]
