from datetime import UTC, date, datetime

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.products.models import Figures
from webapp.shops.models import Equipment, Room, Shop


def test_an_operation_is_added(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    sent = typed.operation(kind=" Rough  Mill ", minutes="1:30")
    answer = helper.post(f"/builds/{build.id}/operations", data=sent)
    found = typed.stored(db, Operation)[0]
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}#operation-{found.id}")
    assert (found.key, found.name, found.kind, found.minutes) == (
        "mill-the-boards",
        "Mill the boards",
        "rough mill",
        90,
    )
    assert (found.shop_id, found.split, found.dusty, found.count, found.makers) == (shop.id, None, None, 1, 1)
    assert found.room
    assert found.room.name == "Shop"


def test_all_that_can_be_said_is_kept(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    glue = factories.product(db, shop)
    db.add_all([Equipment(id=7, shop_id=shop.id, name="clamps", count=8), Room(id=9, shop_id=shop.id, name="spray")])
    db.commit()
    mill, coat = factories.operation(db, build, "mill"), factories.operation(db, build, "coat", product_id=glue.id)
    sent = typed.operation(
        name="Glue up",
        kind="glue-up",
        group="top",
        low="30 min",
        high="2 h",
        count="24",
        makers="2",
        room_id="9",
        product_id=str(glue.id),
        split="yes",
        dusty="no",
        over_id=str(coat.id),
        again_for_id=str(mill.id),
        assembly_minutes="12",
        not_before="2026-02-05T08:00",
        pinned_on="2026-02-06",
        note="hot",
        wait_1=str(mill.id),
        wait_1_within="8 h",
        wait_3=f"{coat.id}:full strength",
        wait_3_lag="15 min",
        hold_2="7",
        hold_2_count="6",
        hold_2_until="out of clamps",
        stage_1="out of clamps",
        stage_1_hours="12",
        stage_2="off the form",
        stage_2_hours="1.5",
        tend_1="scrape",
        tend_1_at="30 min",
        tend_1_within="20 min",
        tend_1_minutes="10 min",
    )
    assert owner.post(f"/builds/{build.id}/operations", data=sent).status_code == 303
    one = typed.stored(db, Operation)[2]
    assert (one.group, one.low, one.high, one.count, one.makers, one.room_id) == ("top", 30, 120, 24, 2, 9)
    assert (one.product_id, one.split, one.dusty, one.over_id, one.again_for_id) == (
        glue.id,
        True,
        False,
        coat.id,
        mill.id,
    )
    assert (one.assembly_minutes, one.pinned_on, one.pinned_at, one.note) == (12, date(2026, 2, 6), None, "hot")
    assert one.not_before == datetime(2026, 2, 5, 13, 0, tzinfo=UTC)  # New York is five hours behind
    assert [(link.waits_for_id, link.stage, link.lag_minutes, link.within_minutes) for link in one.after] == [
        (mill.id, None, 0, 480),
        (coat.id, "full strength", 15, None),
    ]
    assert [(hold.equipment_id, hold.count, hold.until) for hold in one.holds] == [(7, 6, "out of clamps")]
    assert one.stages == [{"name": "out of clamps", "hours": 12}, {"name": "off the form", "hours": 1.5}]
    assert one.tend == [{"key": "scrape", "at_minutes": 30, "within_minutes": 20, "minutes": 10}]
    page = typed.version(owner, f"/operations/{one.id}/edit")
    assert (page["wait_1_within"], page["minutes"], page["low"], page["high"]) == ("8 h", "45 min", "30 min", "2 h")
    assert (page["wait_2"], page["hold_1"], page["hold_1_until"]) == (f"{coat.id}:full strength", "7", "out of clamps")
    assert (page["stage_2_hours"], page["tend_1_at"], page["pinned_on"]) == ("1.5", "30 min", "2026-02-06")
    assert (page["split"], page["dusty"], page["not_before"]) == ("yes", "no", "2026-02-05T08:00")


def test_the_form_waits_for_the_operation_before(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill", group="top")
    glue = factories.operation(db, build, "glue-up", group="top", product_id=factories.product(db, shop).id)
    page = typed.version(owner, f"/builds/{build.id}/operations/new")
    assert (page["wait_1"], page["group"]) == (f"{glue.id}:out of clamps", "top")
    page = typed.version(owner, f"/builds/{build.id}/operations/new?after={mill.id}")
    assert page["wait_1"] == str(mill.id)


def test_what_is_waited_for_follows_the_newest_figures(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """Of a product that is retired as well, where an operation uses it."""
    build = factories.build(db, shop)
    glue = factories.product(db, shop)
    newer = {"stages": [{"name": "out of the press", "hours": 2}]}
    glue.figures.append(Figures(number=2, data=newer, source="the tin", at=glue.current.at))
    plain = factories.product(db, shop, "hide glue")
    plain.figures[0].data = {}
    glue.retired = True
    for key, product in (("first", glue), ("second", plain)):
        factories.operation(db, build, key, product_id=product.id)
    page = typed.text(owner.get(f"/builds/{build.id}/operations/new"))
    assert "First: out of the press" in page
    assert "First: out of clamps" not in page
    assert "Second: done" in page


def test_the_next_one_can_be_typed_at_once(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/operations", data=typed.operation(another="yes"))
    found = typed.stored(db, Operation)[0]
    assert answer.location == f"/builds/{build.id}/operations/new?after={found.id}"


def test_it_stands_at_the_end_of_its_group(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    factories.operation(db, build, "mill", group="top")
    factories.operation(db, build, "turn", group="base")
    owner.post(f"/builds/{build.id}/operations", data=typed.operation(name="Plane", group="top"))
    assert [one.name for one in typed.stored(db, Build)[0].operations] == ["Mill", "Plane", "Turn"]


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"name": ""}, "Say what is done."),
        ({"name": "x" * 300}, "At most 200 characters, please."),
        ({"kind": " "}, "Choose a kind, or write a word of your own."),
        ({"minutes": ""}, "How long will hands be at work?"),
        ({"minutes": "0"}, "At least a minute."),
        ({"minutes": "soon"}, "Type a time like 45, 1:30 or 1 h 30 min."),
        ({"minutes": "45", "low": "50"}, "At best it takes no longer than the likely time"),
        ({"minutes": "45", "high": "40"}, "At worst it takes no less than the likely time."),
        ({"count": "0"}, "Type a whole number from 1"),
        ({"wait_1": "99"}, "Please choose one of these."),
        ({"wait_2_lag": "10"}, "Which operation?"),
        ({"hold_1_count": "2"}, "Which equipment?"),
        ({"hold_1": "7", "hold_1_until": "out of clamps"}, "There is no “out of clamps” here."),
        ({"hold_1": "7", "hold_2": "7"}, "That equipment stands here twice."),
        ({"stage_1": "dry"}, "After how many hours?"),
        ({"stage_1_hours": "4"}, "What is reached then?"),
        ({"stage_1": "dry", "stage_1_hours": "9000"}, "A wait of more than a year cannot be planned."),
        ({"stage_1": "dry", "stage_1_hours": "1", "stage_3": "dry", "stage_3_hours": "2"}, "Two waits have that name."),
        ({"tend_1": "wipe"}, "How long does it take?"),
        ({"tend_1_at": "20"}, "What is to be done?"),
        ({"pinned_at": "2026-02-05T08:00", "pinned_on": "2026-02-05"}, "to a moment or to a day, not to both"),
    ],
)
def test_what_cannot_be_comes_back_as_typed(
    owner: FlaskClient, db: Session, shop: Shop, sent: dict[str, str], says: str
) -> None:
    build = factories.build(db, shop)
    db.add(Equipment(id=7, shop_id=shop.id, name="clamps", count=8))
    db.commit()
    answer = owner.post(f"/builds/{build.id}/operations", data=typed.operation(note="mind the knot", **sent) | sent)
    assert answer.status_code == 422
    assert says in typed.text(answer)
    assert "mind the knot</textarea>" in answer.text
    assert not typed.stored(db, Operation)


def test_sent_twice_is_one_operation(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the same form twice makes one operation and leads to the same place."""
    build = factories.build(db, shop)
    sent = typed.operation(once="ffee01")
    answers = [owner.post(f"/builds/{build.id}/operations", data=sent) for _ in range(2)]
    assert answers[0].location == answers[1].location
    assert len(typed.stored(db, Operation)) == 1


def test_a_stranger_gets_nowhere(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert stranger.get(f"/builds/{build.id}/operations/new").status_code == 404
    assert stranger.post(f"/builds/{build.id}/operations", data=typed.operation()).status_code == 404


def test_what_belongs_to_another_shop_cannot_be_chosen(
    owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop)
    elsewhere = factories.shop(db, "Far off")
    glue = factories.product(db, elsewhere)
    theirs = factories.operation(db, factories.build(db, elsewhere), "mill")
    for sent in ({"product_id": str(glue.id)}, {"wait_1": str(theirs.id)}, {"over_id": str(theirs.id)}):
        assert owner.post(f"/builds/{build.id}/operations", data=typed.operation(**sent)).status_code == 422


def test_new_work_that_does_an_abandoned_one_again_makes_no_circle(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """What waits for abandoned work waits for the one that does it again: that one cannot wait for it."""
    build = factories.build(db, shop)
    mill = factories.operation(db, build, "mill")
    cut = factories.operation(db, build, "cut", after=[mill])
    owner.post(f"/operations/{mill.id}/abandon", data={"reason": "split"})
    sent = typed.operation(again_for_id=str(mill.id), wait_1=str(cut.id))
    answer = owner.post(f"/builds/{build.id}/operations", data=sent)
    assert answer.status_code == 422
    assert "That is a circle" in answer.text
    assert owner.post(f"/builds/{build.id}/operations", data=sent | {"wait_1": ""}).status_code == 303
    assert owner.get("/days").status_code == 200
