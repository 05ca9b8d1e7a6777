"""What the bench counts down to is what the plan prints, to the minute, for every glue and finish there is."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import tap
from webapp.builds.models import Operation
from webapp.days.document import shop_document
from webapp.journal.actions import waits
from webapp.planning.document import answer
from webapp.planning.export import export
from webapp.products.actions import seed
from webapp.products.models import Product
from webapp.shops.models import Opening, Shop
from webapp.trade.products.families import USUAL

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # no end is reckoned in the database
Story = Callable[[FlaskClient, Operation, Clock], None]
SPRING = datetime(2026, 3, 7, 19, 0, 13, tzinfo=UTC)  # the clocks of New York go forward that night


def simply_done(owner: FlaskClient, operation: Operation, clock: Clock) -> None:
    tap(owner, f"/operations/{operation.id}/done")


def clamped_before(owner: FlaskClient, operation: Operation, clock: Clock) -> None:
    tap(owner, f"/operations/{operation.id}/clamps")
    clock.forward(seconds=97)
    tap(owner, f"/operations/{operation.id}/done")


def corrected_later(owner: FlaskClient, operation: Operation, clock: Clock) -> None:
    """He taps done, and says afterwards that it was done 21 minutes before."""
    tap(owner, f"/operations/{operation.id}/done", f"done-{operation.id}")
    at = (clock.moment - timedelta(minutes=21)).astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S+00:00")
    answer = tap(owner, f"/entries/done-{operation.id}/edit", at=at)
    assert answer.status_code == 303


def done_again(owner: FlaskClient, operation: Operation, clock: Clock) -> None:
    """Tapped by mistake, taken back, done a while after."""
    tap(owner, f"/operations/{operation.id}/done", f"done-{operation.id}")
    tap(owner, f"/entries/done-{operation.id}/undo")
    clock.forward(seconds=131)
    tap(owner, f"/operations/{operation.id}/done")


def laid_out(db: Session, shop: Shop) -> list[Operation]:
    """One operation for each product, and for each of its stages one that waits for it."""
    seed(db, shop, START)
    db.commit()
    build = factories.build(db, shop)
    found = []
    for number, product in enumerate(db.scalars(select(Product).order_by(Product.id)).all()):
        kind = "glue-up" if product.use == "glue" else "coat"
        one = factories.operation(db, build, f"p{number}", kind=kind, product_id=product.id, name=product.name)
        for row, stage in enumerate(product.current.data.get("stages", ())):
            factories.operation(db, build, f"p{number}s{row}", after=[(one, stage["name"])], minutes=5)
        found.append(one)
    return found


def printed(db: Session, shop: Shop, clock: Clock) -> dict[str, dict[str, str]]:
    """The stages of each operation as `benchtide plan` prints them for the shop's own document."""
    status, text, faults = answer(json.dumps(export(shop_document(db, shop.id, clock.moment).document)))
    assert status == 0, faults
    [build] = json.loads(text)["builds"]
    return {one["key"]: one.get("stages") or {} for one in build["operations"]}


STORIES = (simply_done, clamped_before, corrected_later, done_again)


@pytest.mark.parametrize(("story", "begin"), [(simply_done, START), *((story, SPRING) for story in STORIES)])
def test_every_end_on_the_bench_is_the_plans(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock, story: Story, begin: datetime
) -> None:
    """TA30: over the clock change as well, and whatever was corrected, taken back or done again.

    From the day before the change: what is short ends before it, what is long after it.
    """
    operations = laid_out(db, shop)
    db.rollback()
    clock.moment = begin
    for operation in operations:
        story(owner, operation, clock)
    owner.get("/journal")
    db.rollback()
    shown = waits(db, shop, clock.moment)
    plan = printed(db, shop, clock)
    page = owner.get("/").text
    keys = {one.id: one.key for one in operations}
    compared = set()
    for wait in shown:
        if wait.follower is None:
            assert datetime.fromisoformat(plan[keys[wait.operation]][wait.stage]) == wait.end, (wait, story)
            compared.add(wait.operation)
        if wait.end > clock.moment:
            assert f'data-until="{wait.end.astimezone(UTC).isoformat(timespec="seconds")}"' in page
    assert compared == {one.id for one in operations if one.product and one.product.current.data.get("stages")}


LAYERS = [one.name for one in USUAL if one.figures.get("recoat")]


@pytest.mark.parametrize("name", LAYERS)
def test_the_next_layer_begins_in_the_plan_when_the_bench_says_it_may(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock, name: str
) -> None:
    """In a shop that never closes, with nothing else to do."""
    db.execute(delete(Opening))
    db.add_all(Opening(shop_id=shop.id, weekday=day, opens=0, closes=1440) for day in range(7))
    seed(db, shop, START)
    db.commit()
    product = db.scalars(select(Product).where(Product.name == name)).one()
    build = factories.build(db, shop)
    one = factories.operation(db, build, "one", kind="coat", product_id=product.id)
    factories.operation(db, build, "two", kind="coat", product_id=product.id, over_id=one.id, minutes=5)
    db.rollback()
    clock.forward(seconds=41)
    tap(owner, f"/operations/{one.id}/done")
    db.rollback()
    [wait] = [wait for wait in waits(db, shop, clock.moment) if wait.follower]
    status, text, faults = answer(json.dumps(export(shop_document(db, shop.id, clock.moment).document)))
    assert status == 0, faults
    rows = json.loads(text)["builds"][0]["operations"]
    first = min(row["start"] for row in rows if row["key"].split(".")[0] == "two")  # sanding before it counts to it
    soonest = clock.moment.replace(second=0) + timedelta(minutes=1)
    assert datetime.fromisoformat(first) == max(wait.end, soonest)
