from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.shops.models import Shop


def test_an_operation_is_changed_and_keeps_its_key(helper: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    address = f"/operations/{mill.id}/edit"
    answer = helper.post(address, data={**typed.version(helper, address), "name": "Plane it", "minutes": "75"})
    assert (answer.status_code, answer.location) == (303, f"/builds/{mill.build_id}#operation-{mill.id}")
    found = typed.stored(db, Operation)[0]
    assert (found.key, found.name, found.minutes, found.kind) == ("mill", "Plane it", 75, "mill")


def test_untouched_it_stays_as_it_is(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    glue = factories.operation(
        db, build, "glue", after=[(mill, "gone")], tend=[{"key": "look", "at_minutes": 5, "minutes": 5}]
    )
    address = f"/operations/{glue.id}/edit"
    assert owner.post(address, data=typed.version(owner, address)).status_code == 303
    found = typed.stored(db, Operation)[1]
    assert [(link.waits_for_id, link.stage) for link in found.after] == [(mill.id, "gone")]
    assert found.tend == [{"key": "look", "at_minutes": 5, "within_minutes": 0, "minutes": 5}]


def test_two_browsers_on_one_operation_lose_nothing(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop
) -> None:
    """SA09: the second is told, sees both, keeps what was typed, and may still put it in place."""
    build = factories.build(db, shop)
    cut = factories.operation(db, build, "cut")
    mill = factories.operation(db, build, "mill", minutes=60)
    address = f"/operations/{mill.id}/edit"
    desk, phone = typed.version(owner, address), typed.version(helper, address)
    assert owner.post(address, data={**desk, "wait_1": str(cut.id)}).status_code == 303
    late = helper.post(address, data={**phone, "minutes": "90", "note": "two passes"})
    assert late.status_code == 409
    told = typed.text(late)
    assert "Somebody saved this while you were typing." in told
    assert "Hands-on time 1 h 90" in told
    assert "Waits for Cut: done nothing" in told
    assert "two passes</textarea>" in late.text
    stored = typed.stored(db, Operation)[1]
    assert (stored.minutes, stored.version) == (60, 2)
    again = {**phone, "minutes": "90", "note": "two passes", "wait_1": str(cut.id), "version": "2"}
    assert helper.post(address, data=again).status_code == 303
    stored = typed.stored(db, Operation)[1]
    assert (stored.minutes, stored.note, len(stored.after)) == (90, "two passes", 1)


def test_a_circle_is_refused_in_words(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    glue = factories.operation(db, build, "glue", after=[mill])
    plane = factories.operation(db, build, "plane", over_id=glue.id)
    address = f"/operations/{mill.id}/edit"
    for row in ("wait_3", "over_id"):
        answer = owner.post(address, data={**typed.version(owner, address), row: str(plane.id)})
        assert answer.status_code == 422
        says = "That is a circle: “Mill” waits for “Plane”, which waits for “Glue”, which waits for “Mill”."
        assert says in typed.text(answer)
        assert f'id="{row}-wrong"' in answer.text
    assert not typed.stored(db, Operation)[0].after


def test_doing_work_again_makes_no_hidden_circle(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    glue = factories.operation(db, build, "glue")
    plane = factories.operation(db, build, "plane", after=[glue])
    second = factories.operation(db, build, "second", after=[plane])
    address = f"/operations/{second.id}/edit"
    answer = owner.post(address, data={**typed.version(owner, address), "again_for_id": str(glue.id)})
    assert answer.status_code == 422
    assert "That is a circle" in typed.text(answer)


def test_it_cannot_wait_for_itself(owner: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    address = f"/operations/{mill.id}/edit"
    answer = owner.post(address, data={**typed.version(owner, address), "wait_1": str(mill.id)})
    assert answer.status_code == 422


def test_a_stage_that_others_count_on_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    glue = factories.product(db, shop)
    glue_up = factories.operation(db, build, "glue-up", product_id=glue.id)
    factories.operation(db, build, "plane", after=[(glue_up, "full strength")])
    address = f"/operations/{glue_up.id}/edit"
    answer = owner.post(address, data={**typed.version(owner, address), "product_id": ""})
    assert answer.status_code == 422
    assert "“Plane” counts on “full strength” of this operation." in typed.text(answer)
    own = {"product_id": "", "stage_1": "full strength", "stage_1_hours": "30"}
    assert owner.post(address, data={**typed.version(owner, address), **own}).status_code == 303


def test_in_another_group_it_stands_at_its_end(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill", group="top")
    factories.operation(db, build, "turn", group="base")
    address = f"/operations/{mill.id}/edit"
    owner.post(address, data={**typed.version(owner, address), "group": "base"})
    assert [one.key for one in typed.stored(db, Build)[0].operations] == ["turn", "mill"]


def test_bad_input_comes_back_as_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    address = f"/operations/{mill.id}/edit"
    answer = owner.post(address, data={**typed.version(owner, address), "minutes": "a while", "note": "slowly"})
    assert answer.status_code == 422
    assert 'value="a while"' in answer.text
    assert "slowly</textarea>" in answer.text


def test_a_stranger_gets_nowhere(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    assert stranger.get(f"/operations/{mill.id}/edit").status_code == 404
    assert stranger.post(f"/operations/{mill.id}/edit", data=typed.operation()).status_code == 404


def test_an_id_as_long_as_a_page_is_a_wrong_choice(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """With a product chosen the page looks up what lies under it, also where that is no operation."""
    glue = factories.product(db, shop)
    coat = factories.operation(db, factories.build(db, shop), "coat", product_id=glue.id)
    address = f"/operations/{coat.id}/edit"
    for name in ("wait_1", "over_id"):
        answer = owner.post(address, data={**typed.version(owner, address), name: "1" * 5000})
        assert answer.status_code == 422
