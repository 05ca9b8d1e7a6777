"""Wood, air, sizes and tins of the invented shop: each of their pages has something to show, and it holds together."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests.conftest import Clock
from webapp.builds.models import Build
from webapp.invented import shelf
from webapp.moisture.forms import TYPED
from webapp.moisture.houses import houses_of
from webapp.moisture.models import StockMoisture, Watch
from webapp.products.models import Product
from webapp.products.tins import look, tins_of
from webapp.shops.models import Reading, Room, Shop
from webapp.sizes.shown import shown
from webapp.stock.models import Material


def named(db: Session, name: str) -> Build:
    return db.scalars(select(Build).where(Build.name == name)).one()


def test_one_lot_of_boards_may_not_be_milled_yet(looker: FlaskClient, invented: Shop, db: Session) -> None:
    page = looker.get("/moisture").get_data(as_text=True)
    assert page.count("Not yet: 3.5 points over, read again") == 1
    assert page.count("May be milled") == page.count("Readings of") - 1 >= 6
    boards = db.scalars(select(Material).where(Material.name == shelf.BOARDS.name)).one()
    assert f'href="/stock/{boards.id}/moisture"' in page


def test_what_was_read_is_put_right_by_the_meter(invented: Shop, db: Session) -> None:
    rows = db.scalars(select(StockMoisture).order_by(StockMoisture.at)).all()
    assert all(row.moisture is not None and not row.why_not for row in rows)
    assert rows[-1].reading == 9.0
    assert rows[-1].moisture == 8.6  # white oak at 20 °C: 0.4 less


def test_every_part_says_how_it_moves_but_those_of_pear(looker: FlaskClient, invented: Shop, db: Session) -> None:
    for build in db.scalars(select(Build)).all():
        page, parts = looker.get(f"/builds/{build.id}/parts").get_data(as_text=True), len(build.parts)
        known = 0 if build.wood == "pear" else parts
        assert page.count("across the grain") == known, build.name
        assert page.count("Its movement is not known yet.") == parts - known, build.name


def test_one_house_was_measured_and_the_others_are_as_usual(invented: Shop, db: Session) -> None:
    cabinet = houses_of(db, invented.id, named(db, "Oak wall cabinet"))
    assert cabinet.own is not None
    assert cabinet.usual is not None
    assert 6 < cabinet.target.low < cabinet.target.high < 14
    assert cabinet.usual.place == TYPED
    assert houses_of(db, invented.id, named(db, "Cherry writing desk")).own is None


def test_a_tenon_fits_its_mortise_and_the_sizes_are_within(invented: Shop, db: Session) -> None:
    sizes = {one.row.name: one for one in shown(db, named(db, "Cherry writing desk"))}
    tenon = sizes["Tenon, thickness"]
    assert [actual.judged.within for actual in tenon.actuals] == [True, False]  # the last first
    assert tenon.pair is not None
    assert tenon.pair.says.startswith("snug")
    assert tenon.pair.by == "as measured"
    drawer = sizes["Drawer side, height"].pair
    assert drawer is not None
    assert drawer.says.startswith("runs")
    assert not any(one.is_off for build in db.scalars(select(Build)) for one in shown(db, build))


def test_one_tin_is_too_old_and_it_is_of_no_piece_in_the_making(invented: Shop, db: Session, clock: Clock) -> None:
    products = {row.id: row for row in db.scalars(select(Product).where(Product.shop_id == invented.id))}
    now = clock().astimezone(invented.zone)
    tins = tins_of(db, products)
    assert len(tins) == len({can.product for can in shelf.CANS})
    bad = [products[key].name for key in tins for one in look("", products[key].family, tins[key], now) if one.faults]
    assert bad == ["shellac"]


def test_a_delivered_piece_is_watched_and_nothing_is_overdue(looker: FlaskClient, invented: Shop, db: Session) -> None:
    assert "to look at:" not in looker.get("/").get_data(as_text=True)
    watch = db.scalars(select(Watch).where(Watch.name == "Width of the top")).one()
    assert len(watch.looks) == 2
    page = looker.get(f"/watches/{watch.id}").get_data(as_text=True)
    assert page.count(">within<") == 2
    assert "Look at it" in page


def test_the_finishing_room_had_a_cold_night(invented: Shop, db: Session, clock: Clock) -> None:
    """Its hours under 10 °C do not count for the oil on the tray; joints glued in the other room are not doubted."""
    room = db.scalars(select(Room).where(Room.name == "Finishing room")).one()
    cold = db.scalars(select(Reading).where(Reading.temperature < 10)).all()
    assert {reading.room_id for reading in cold} == {room.id}
    assert all(clock() - timedelta(days=3) < reading.at < clock() for reading in cold)
