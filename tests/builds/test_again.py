import re
from datetime import UTC, date, datetime

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Hold, Part
from webapp.journal.models import Entry
from webapp.shops.models import Equipment, Shop


def a_build(db: Session, shop: Shop) -> Build:
    build = factories.build(db, shop, client="Mia", contact="555", wood="ash", due_on=date(2026, 2, 2), note="hers")
    build.done_at = [{"operation": "glue", "stage": "full strength"}]
    db.add(Equipment(id=5, shop_id=shop.id, name="clamps", count=8))
    db.commit()
    mill = factories.operation(db, build, "mill", group="top", not_before=datetime(2026, 1, 5, tzinfo=UTC))
    glue = factories.operation(
        db, build, "glue", after=[(mill, None)], product_id=factories.product(db, shop).id, minutes=40, high=70
    )
    glue.holds.append(Hold(equipment_id=5, count=6, until="out of clamps"))
    again = factories.operation(db, build, "glue-again", after=[mill], again_for_id=glue.id)
    factories.operation(db, build, "plane", after=[(again, None)], over_id=again.id)
    leg = {"thickness_typed": "8/4", "thickness_nm": 50_800_000, "length_typed": "27 1/2 in", "length_nm": 698_500_000}
    db.add(Part(shop_id=shop.id, build_id=build.id, position=1, name="Leg", count=4, **leg))
    factories.entry(db, factories.maker(db, shop, "Ada"), "noted", datetime(2026, 2, 1, tzinfo=UTC), on=build)
    db.commit()
    return build


def test_a_piece_is_made_again_without_its_client_and_record(owner: FlaskClient, db: Session, shop: Shop) -> None:
    old = a_build(db, shop)
    answer = owner.post(f"/builds/{old.id}/again")
    db.rollback()
    new = typed.stored(db, Build)[1]
    assert (answer.status_code, answer.location) == (303, f"/builds/{new.id}/edit")
    assert (new.name, new.wood, new.status, new.client, new.contact, new.note) == (
        ("Hall table", "ash", "enquiry", "", "", "")
    )
    assert new.due_on is None
    assert new.done_at == [{"operation": "glue", "stage": "full strength"}]
    mill, glue, plane = new.operations
    assert (mill.key, mill.group, mill.not_before, mill.id != old.operations[0].id) == ("mill", "top", None, True)
    assert (glue.minutes, glue.high, glue.product_id) == (40, 70, old.operations[1].product_id)
    assert [(hold.equipment_id, hold.count, hold.until) for hold in glue.holds] == [(5, 6, "out of clamps")]
    assert [link.waits_for_id for link in glue.after] == [mill.id]
    assert ([link.waits_for_id for link in plane.after], plane.over_id) == ([glue.id], glue.id)
    assert [(part.name, part.count, part.thickness_typed, part.length_nm) for part in new.parts] == [
        ("Leg", 4, "8/4", 698_500_000)
    ]
    assert [entry.build_id for entry in db.query(Entry)] == [old.id]


def test_sent_twice_is_one_piece(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the button of one page, tapped twice, makes one."""
    old = a_build(db, shop)
    page = owner.get(f"/builds/{old.id}").text
    key = re.search(r'name="once" value="(\w+)">\s*<button[^>]*>Make it again', page)
    assert key
    answers = [owner.post(f"/builds/{old.id}/again", data={"once": key[1]}) for _ in range(2)]
    assert answers[0].location == answers[1].location
    assert len(typed.stored(db, Build)) == 2


def test_only_an_owner_of_the_shop_may(helper: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    old = a_build(db, shop)
    assert helper.post(f"/builds/{old.id}/again").status_code == 403
    assert stranger.post(f"/builds/{old.id}/again").status_code == 404
    assert len(typed.stored(db, Build)) == 1
