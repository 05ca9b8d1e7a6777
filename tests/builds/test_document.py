from datetime import UTC, date, datetime

from jsonschema import Draft202012Validator
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from webapp.builds.document import Names, operation_fields
from webapp.builds.models import Hold, Operation
from webapp.builds.steps import steps_of
from webapp.builds.waiting import stage_names
from webapp.planning.schema import OPERATION
from webapp.shops.models import Equipment, Room, Shop


def fields(db: Session, operation: Operation) -> dict[str, object]:
    own = operation.build.operations
    rooms = {room.id: room.name for room in db.scalars(select(Room))}
    names = Names({one.id: one.key for one in own}, {one.id: stage_names(one) for one in own}, rooms)
    step = next(step for step in steps_of(db, [operation.build_id])[operation.build_id] if step.id == operation.id)
    found = operation_fields(step, names)
    Draft202012Validator(OPERATION).validate(found)
    return found


def test_an_operation_with_nothing_special_says_little(db: Session, shop: Shop) -> None:
    mill = factories.operation(db, factories.build(db, shop), "mill")
    assert fields(db, mill) == {
        "key": "mill", "name": "Mill", "kind": "mill", "minutes": 60, "makers": 1, "count": 1,
    }  # fmt: skip


def test_every_column_of_the_plan_is_in_it(db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    glue = factories.product(db, shop)
    room, clamps = Room(shop_id=shop.id, name="attic"), Equipment(shop_id=shop.id, name="clamps", count=8)
    db.add_all([room, clamps])
    db.commit()
    mill = factories.operation(db, build, "mill")
    coat = factories.operation(db, build, "coat", product_id=glue.id)
    one = factories.operation(
        db,
        build,
        "glue-up",
        after=[mill, (coat, "full strength")],
        group="top",
        low=30,
        split=True,
        dusty=False,
        makers=2,
        count=24,
        room_id=room.id,
        product_id=glue.id,
        stages=[{"name": "off the form", "hours": 12}],
        over_id=coat.id,
        not_before=datetime(2026, 2, 5, 13, tzinfo=UTC),
        pinned_on=date(2026, 2, 6),
        assembly_minutes=12,
        again_for_id=mill.id,
    )
    one.after[0].lag_minutes, one.after[0].within_minutes = 15, 480
    one.holds.append(Hold(equipment_id=clamps.id, count=6, until="out of clamps"))
    db.commit()
    assert fields(db, one) == {
        "key": "glue-up",
        "name": "Glue-up",
        "kind": "glue-up",
        "group": "top",
        "minutes": {"low": 30, "likely": 60, "high": 60},
        "split": True,
        "dusty": False,
        "makers": 2,
        "count": 24,
        "room": "attic",
        "stages": [{"name": "off the form", "hours": 12}],
        "equipment": [{"name": "clamps", "count": 6, "until": "out of clamps"}],
        "after": [
            {"operation": "mill", "lag_minutes": 15, "within_minutes": 480},
            {"operation": "coat", "stage": "full strength"},
        ],
        "over": "coat",
        "not_before": "2026-02-05T13:00:00+00:00",
        "pinned": {"on": "2026-02-06"},
        "assembly_minutes": 12,
        "again_for": "mill",
    }
    assert stage_names(one) == ["out of clamps", "full strength", "off the form"]


def test_a_stage_that_is_gone_means_the_end(db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    clamps = Equipment(shop_id=shop.id, name="clamps", count=8)
    db.add(clamps)
    db.commit()
    glue = factories.operation(db, build, "glue")
    plane = factories.operation(db, build, "plane", after=[(glue, "ready to plane")])
    plane.holds.append(Hold(equipment_id=clamps.id, count=2, until="out of clamps"))
    db.commit()
    assert fields(db, plane)["after"] == [{"operation": "glue"}]
    assert fields(db, plane)["equipment"] == [{"name": "clamps", "count": 2}]
