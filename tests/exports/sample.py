"""A shop that has something in every column: the invented one, and beside it what that does not need."""

import json
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from tests.conftest import Clock
from tests.photos.sending import jpeg, photos, send
from webapp.app import create_app
from webapp.builds.models import Build, Hold, Link, Operation, Part, Size
from webapp.costs.models import Payment, Terms
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.exports.taking_out import File
from webapp.journal.models import Entry
from webapp.moisture.models import (
    House,
    Leeway,
    Look,
    MaterialMoisture,
    Meter,
    OwnWood,
    PartMoisture,
    StockMoisture,
    Watch,
)
from webapp.products.models import Figures, Tin
from webapp.settings import Settings
from webapp.shops.models import HELPER, Closed, Equipment, Extra, Maker, Opening, Rate, Reading, Room, Shop
from webapp.stock.models import Material

NOON = datetime(2026, 2, 3, 17, 0, 0, 123456, tzinfo=UTC)
FEB2 = date(2026, 2, 2)
PIECE = "Éléphant chest; =1+1"  # accents, and what a spreadsheet would run
# what becomes of a file before it comes to the database does not depend on which it is
ONE_DATABASE = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
SIDES = ("thickness", "width", "length")
BOARDS: dict[str, Any] = {
    "kind": "wood",
    "name": "boards",
    "quantity": Decimal(1),
    "unit": "bd ft",
    "unit_price": Decimal(9),
    "total_minor": 900,
}
TAIL = "aé\u0301\u4e2d𝔘"  # letters of one to four bytes


@dataclass(frozen=True)
class Sample:
    """What was taken out of it: the shop, and each of two builds, bare and with pictures."""

    shop: bytes
    archive: bytes
    builds: dict[str, tuple[bytes, bytes]]

    @property
    def piece(self) -> File:
        """The file of the piece that has something of everything."""
        found: File = json.loads(self.builds[PIECE][0])
        return found


def put(client: FlaskClient, content: bytes | File, name: str = "a.json", once: str = "once") -> TestResponse:
    """Send a file to be put in."""
    sent = json.dumps(content).encode() if isinstance(content, dict) else content
    answer = client.post("/imports", data={"once": once, "file": (BytesIO(sent), name)})
    answer.request.environ["wsgi.input"].close()  # the test client leaves its own file open when much was sent
    return answer


def got(client: FlaskClient, address: str) -> bytes:
    answer = client.get(address)
    assert answer.status_code == 200, (address, answer.status)
    return answer.data


def taken_out(folder: Path) -> Sample:
    """Make the shop on SQLite and take it out."""
    settings = Settings(instance=folder)
    migrate.upgrade(settings.database)
    engine = make_engine(settings.database)
    app = create_app(settings, engine=engine, now=Clock())
    app.config.update(TESTING=True, WTF_CSRF_ENABLED=False, INVENTED_PICTURES=1)
    client = app.test_client()
    assert client.post("/invented", data={"time_zone": "Europe/Oslo"}).status_code == 303
    with Session(engine) as db:
        shop = db.scalars(select(Shop)).one()
        build = fill(db, shop)
        ids = {name: db.scalars(select(Build.id).where(Build.name == name)).one() for name in (PIECE, "Ash hall table")}
        _send_photos(client, db, build)
    builds = {
        name: (got(client, f"/builds/{key}/exports/build.json"), got(client, f"/builds/{key}/exports/build.zip"))
        for name, key in ids.items()
    }
    found = Sample(got(client, "/exports/shop.json"), got(client, "/exports/shop.zip"), builds)
    engine.dispose()
    return found


def fill(db: Session, shop: Shop) -> Build:
    """Add a piece with something in every column, and what it names."""
    shop.least_minutes, shop.humidity = 15, 41.5
    ada = factories.maker(db, shop, f"Ada {TAIL}", HELPER, signs_in=False)
    ada.left_on = FEB2
    room, press = _place(db, shop, ada)
    glue = factories.product(db, shop, "House glue", rated_at=20, doubles_per=8)
    told = {"source": "own trial", "source_on": FEB2, "why": "too quick", "at": NOON, "maker_id": ada.id}
    glue.figures.append(Figures(number=2, data={**glue.current.data, "open_minutes": 3}, **told))
    glue.retired = True
    dates = {"made_on": FEB2, "opened_on": FEB2, "use_by": FEB2, "gone_on": FEB2}
    db.add(Tin(shop_id=shop.id, product_id=glue.id, batch="=4711", mixed_at=NOON, frozen=True, **dates))
    build = factories.build(
        db,
        shop,
        PIECE,
        client="Jón",
        contact="+47 …",
        wood="alder",
        note="two\nlines",
        made_by="table-base",
        due_on=FEB2,
        not_before=FEB2,
        delivered_on=FEB2,
        created_at=NOON,
        weight=3,
        status="aftercare",
        done_at=[{"operation": "glue", "stage": "full strength"}],
    )
    sizes = {f"{side}_typed": "4/4 in" for side in SIDES} | {f"{side}_nm": 25_400_000 for side in SIDES}
    words = {"name": "leg", "count": 4, "wood": "ash", "cut": "mixed", "note": "taper"}
    db.add(Part(shop_id=build.shop_id, build_id=build.id, position=2, **words, **sizes))
    held = {"target_typed": "10 mm", "target_nm": 10_000_000, "tolerance_typed": "1/64 in", "tolerance_nm": 396_875}
    for place, key, more in ((4, "tenon", {"goes_into": "hole", "fit": "tenon in mortise"}), (3, "hole", {})):
        told = {"part": "leg", "note": "by ear", **held, **more}
        db.add(Size(shop_id=build.shop_id, build_id=build.id, position=place, key=key, name=key, **told))
    _operations(db, build, room, press, glue.id)
    _moisture(db, build, ada)
    _record(db, build, shop, glue.figures[0].id, ada)
    _money(db, build)
    db.commit()
    return build


def _place(db: Session, shop: Shop, ada: Maker) -> tuple[Room, Equipment]:
    db.add(Rate(maker_id=ada.id, from_on=FEB2, hour_minor=3333))
    db.add(Opening(shop_id=shop.id, maker_id=ada.id, weekday=6, opens=0, closes=1440))
    db.add_all(Closed(shop_id=shop.id, first_on=FEB2, last_on=FEB2, note=note) for note in ("fair", ""))
    db.add(Extra(shop_id=shop.id, on_day=FEB2, opens=5, closes=6))
    climate = {"climate_day": 1.1, "climate_night": -2.2, "humidity": 33.3}
    room = Room(shop_id=shop.id, name="Loft", drying_places=2, settle_minutes=7, **climate)
    press = Equipment(shop_id=shop.id, name="Press; wide", count=3)
    db.add_all([room, press])
    db.flush()
    read = {"shop_id": shop.id, "room_id": room.id, "at": NOON, "temperature": 1 / 3, "unit": "F"}
    db.add_all(Reading(**read, counts=counts) for counts in (False, True, None))
    db.commit()
    return room, press


def _operations(db: Session, build: Build, room: Room, press: Equipment, product_id: int) -> None:
    mill = factories.operation(db, build, "mill", note="slow", position=9)
    glue = factories.operation(
        db,
        build,
        "glue",
        after=[mill],
        product_id=product_id,
        room_id=room.id,
        group="top",
        position=4,
        low=30,
        high=90,
        count=2,
        makers=2,
        split=True,
        dusty=True,
        assembly_minutes=4,
        pinned_at=NOON,
        not_before=NOON,
        tend=[],
        stages=[{"name": "full strength", "hours": 30.5}],
    )
    glue.holds.append(Hold(equipment_id=press.id, count=2, until="out of clamps"))
    tend = [{"key": "wipe", "at_minutes": 5, "within_minutes": 5, "minutes": 5}]
    coat = factories.operation(db, build, "coat", over_id=glue.id, pinned_on=FEB2, position=4, tend=tend)
    coat.after.append(Link(waits_for_id=glue.id, stage="full strength", lag_minutes=5, within_minutes=600))
    factories.operation(db, build, "again", again_for_id=mill.id, position=1)


def _record(db: Session, build: Build, shop: Shop, figures_id: int, ada: Maker) -> None:
    """Lines of one moment, in the order of their ids, with all ways in which an id follows from another."""
    mill, glue = (next(one for one in build.operations if one.key == key) for key in ("mill", "glue"))

    def line(key: str, kind: str, minute: int, on: Operation | None, corrects: str | None = None, **data: Any) -> None:
        at = NOON + timedelta(minutes=minute)
        place = {"build_id": on.build_id, "operation_id": on.id} if on else {}
        told = {"kind": kind, "at": at, "arrived_at": at + timedelta(seconds=1), "corrects": corrects, "data": data}
        db.add(Entry(id=key, shop_id=shop.id, maker_id=ada.id, **place, **told))

    line("pauses", "started", 0, mill, early="=cmd", remembered=True)
    line("pauses.early", "overruled", 0, mill, flag="too-early", reason="=cmd")
    line("zz-1", "started", 1, glue)
    line("zz-1.pauses.pauses", "paused", 1, mill)
    line("aa-2", "noted", 1, mill, note="@note; -1")
    line("zz-0", "withdrawn", 2, mill, "aa-2")
    line("yy", "noted", 2, mill, "never-arrived", note="late")
    line("done-1", "done", 3, glue, figures=figures_id)
    line("shop-1", "started", 4, None, shop_time="Sharpening")


def _money(db: Session, build: Build) -> None:
    place = {"shop_id": build.shop_id, "build_id": build.id}
    money = {"quantity": Decimal("1.2500"), "unit": "bd ft", "unit_price": Decimal("7.0001"), "total_minor": 875}
    sizes = {f"{side}_typed": "27 mm" for side in SIDES}
    words = {"kind": "wood", "name": "-2+3", "supplier": "+yard", "note": 'a "b"\nc', "bought_on": FEB2, "pieces": 3}
    db.add(Material(**place, **money, **sizes, **words))
    db.add(Material(shop_id=build.shop_id, kind="other", name="1/8", **money))
    db.add(Terms(**place, price_minor=100_000, consumables_percent=Decimal("2.5"), consumables_minor=5))
    db.add(Payment(**place, position=1, name="with the order", percent=Decimal(40), amount_minor=40_000, paid_on=FEB2))


def _moisture(db: Session, build: Build, ada: Maker) -> None:
    """A reading of each kind, put right since; meters with tables; the house of the piece and the usual one."""
    place = {"shop_id": build.shop_id}
    db.add(Material(**place, build=build, **BOARDS))
    db.flush()
    boards = db.scalars(select(Material).where(Material.name == BOARDS["name"])).one()
    part = db.scalars(select(Part).where(Part.build_id == build.id).limit(1)).one()
    tables = {"by_temperature": [[50.0, 15, 2.5], [68, None, 0]], "by_species": [["=oak", None, -0.5]]}
    db.add(Meter(**place, name="pin meter", unit="F", species_first=True, **tables))
    db.add(Meter(**place, name="bare", unit="C", by_temperature=[], by_species=[]))
    read = {"at": NOON, "arrived_at": NOON, "maker_id": ada.id, "reading": 15, "temperature": 10, "unit": "F"}
    told = {"meter": "pin meter", "species": "=oak", "moisture": 17.5, "why_not": "no", "place": "core"}
    things: tuple[tuple[Any, dict[str, int]], ...] = (
        (StockMoisture, {}),
        (MaterialMoisture, {"material_id": boards.id}),
        (PartMoisture, {"part_id": part.id}),
    )
    for table, thing in things:
        db.add(table(**place, **thing, **read, **told, number=99, revision=1))
        db.add(table(**place, **thing, at=NOON, arrived_at=NOON, number=99, revision=2))
    sizes = {f"{size}_typed": "5 mm" for size in ("distance", "screw", "opening", "groove", "hold", "clear")}
    db.add(Leeway(**place, part_id=part.id, kind="panel", **sizes))
    width = {"width_typed": "36 in", "width_nm": 914_400_000}
    watch = Watch(**place, part_id=part.id, name="=width", moisture=9.5, ended_on=FEB2, **width)
    look = {**place, "at": NOON, "maker_id": ada.id, "number": 1}
    watch.looks.append(Look(**look, revision=1, note="-1", **width))
    watch.looks.append(Look(**look, revision=2, is_taken_back=True))
    db.add(watch)
    db.add(OwnWood(**place, name="=teak", radial="0.00101", tangential="0.00186", source="-1"))
    air = {"dry_temperature": 1 / 3, "dry_humidity": 30, "damp_temperature": 24, "damp_humidity": 60.5}
    db.add(House(**place, build_id=build.id, place="by hygrometer", low=6.25, high=10, source="read", near=1.5, **air))
    db.add(House(**place, place="own figures", low=6, high=12))


def _send_photos(client: FlaskClient, db: Session, build: Build) -> None:
    """The same pixels twice at one place, put elsewhere and said otherwise; one taken out; a receipt of the shop's."""
    mill = next(one for one in build.operations if one.key == "mill")
    files = [("фото.jpg", jpeg("green", datetime(2018, 1, 1))), ("copy.jpg", jpeg("green"))]  # noqa: DTZ001
    send(client, f"operations/{mill.id}", *files, caption="=caption", cover="y")
    send(client, f"builds/{build.id}", ("b.jpg", jpeg("red")))
    first, _, last = (photo for photo in photos(db) if photo.build_id == build.id)
    for where in ("", str(mill.id)):
        db.refresh(first)
        moved = {"caption": "planed", "operation": where, "version": str(first.version)}
        assert client.post(f"/photos/{first.id}", data=moved).status_code == 303
        db.rollback()
    assert client.post(f"/photos/{last.id}/removal").status_code == 303
    place = {"build": str(build.id), "bought_on": "2026-02-02", "receipt": (BytesIO(jpeg("blue")), "bill.jpg")}
    line = {"kind": "wood", "name": "ash", "quantity": "1.25", "unit": "bd ft", "unit_price": "7"}
    assert client.post("/stock/new", data={**place, **line}).status_code == 303
