"""An advice to warm a room brings the cautions along, and names the finish that stands wet there."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import tap
from webapp.builds.models import Operation
from webapp.products.models import Figures, Product
from webapp.shops.models import Reading, Room, Shop
from webapp.trade.products.figures import figures

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
HEATERS, WET = "Warm the room without a flame", "“Oil the stool” is still wet there"
FLAME, RAGS = "No flame, no spark, no glowing heater", "Oily rags can catch fire by themselves"


def product(db: Session, shop: Shop, name: str, family: str, use: str, **known: object) -> Product:
    found = Product(shop_id=shop.id, name=name, family=family, use=use)
    found.figures = [Figures(number=1, data=dict(figures(**known)), source="a label", at=START)]
    db.add(found)
    db.commit()
    return found


@pytest.fixture
def rooms(db: Session, shop: Shop) -> list[Room]:
    found = [Room(shop_id=shop.id, name=name) for name in ("bench room", "finish room")]
    db.add_all(found)
    db.commit()
    return found


@pytest.fixture
def joint(db: Session, shop: Shop, rooms: list[Room]) -> Operation:
    """A glue-up in the cold bench room."""
    glue = product(db, shop, "yellow PVA", "pva", "glue", rated_at=21, doubles_per=8, lowest=10)
    build = factories.build(db, shop, "Table", status="in the making")
    db.add(Reading(shop_id=shop.id, at=START - timedelta(minutes=5), temperature=7.0, unit="C"))
    db.commit()
    return factories.operation(db, build, "glue-up", name="Glue it", product_id=glue.id, room_id=rooms[0].id)


def oil(db: Session, shop: Shop, room: Room, name: str = "wiping varnish", family: str = "varnish") -> Operation:
    """A coat on another piece, dust free after six hours."""
    stages = [{"name": "dust free", "hours": 6}, {"name": "full cure", "hours": 720}]
    finish = product(db, shop, name, family, "finish", stages=stages, dust_free="dust free")
    build = factories.build(db, shop, "Stool", status="in the making")
    return factories.operation(db, build, "coat", name="Oil the stool", product_id=finish.id, room_id=room.id)


def test_wet_oil_in_the_room_is_named_beside_the_advice_to_warm_it(
    owner: FlaskClient, db: Session, shop: Shop, rooms: list[Room], joint: Operation, clock: Clock
) -> None:
    """TA10: no unvented heater or flame near wet finish or overnight; said before the glue is opened in the cold."""
    coat = oil(db, shop, rooms[0], "boiled linseed oil", "oil")
    address = f"/operations/{joint.id}/start"
    page = owner.get(address).text
    assert HEATERS in page
    assert "never leave one on overnight beside wet finish" in page
    assert not any(text in page for text in (WET, FLAME, RAGS))
    tap(owner, f"/operations/{coat.id}/start", told="yes", reason="it must be")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{coat.id}/done")
    page = owner.get(address).text
    assert all(text in page for text in (f"{HEATERS}: {WET}", RAGS))
    on_the_product = owner.get(f"/products/{joint.product_id}?room={rooms[0].id}").text
    assert all(text in on_the_product for text in (f"{HEATERS}: {WET}", RAGS))
    clock.forward(hours=6)
    page = owner.get(address).text
    assert HEATERS in page
    assert not any(text in page for text in (WET, RAGS))


def test_fumes_forbid_flames_in_their_own_room_only(
    owner: FlaskClient, db: Session, shop: Shop, rooms: list[Room], joint: Operation, clock: Clock
) -> None:
    coat = oil(db, shop, rooms[1], "nitro", "lacquer")
    tap(owner, f"/operations/{coat.id}/start", told="yes")
    page = owner.get(f"/operations/{joint.id}/start").text
    assert HEATERS in page
    assert not any(text in page for text in (WET, FLAME))
    db.rollback()
    coat.room_id = rooms[0].id
    db.commit()
    page = owner.get(f"/operations/{joint.id}/start").text
    assert all(text in page for text in (f"{HEATERS}: {WET}", FLAME))


def test_cold_ahead_brings_the_heaters_to_the_bench_and_the_piece(
    owner: FlaskClient, db: Session, shop: Shop, joint: Operation, clock: Clock
) -> None:
    shop.climate_day, shop.climate_night = 21.0, 5.0
    db.add(Reading(shop_id=shop.id, at=clock.moment - timedelta(minutes=1), temperature=21.0, unit="C"))
    db.commit()
    tap(owner, f"/operations/{joint.id}/start", told="yes", reason="it must be")
    for page in ("/", f"/builds/{joint.build_id}"):
        text = owner.get(page).text
        assert "Keep it warm until then." in text
        assert text.count(HEATERS) == 1
