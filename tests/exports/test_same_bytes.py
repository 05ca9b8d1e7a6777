"""Taken out, put in, taken out again: the same bytes, on both databases and from the one into the other."""

import json
from pathlib import Path

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.exports.sample import PIECE, Sample, got, put
from webapp.db.session import sessions
from webapp.exports import rows
from webapp.exports.kinds import KINDS, word
from webapp.photos.models import Photo
from webapp.planning.document import answer
from webapp.shops.models import Shop
from webapp.web.files import Store


def test_a_shop_with_its_pictures_into_an_empty_server(sample: Sample, nobody: FlaskClient, db: Session) -> None:
    """SA17: the archive was made on SQLite; what comes out again is the same on SQLite and on PostgreSQL."""
    assert put(nobody, sample.archive, "a.zip").status_code == 303
    assert got(nobody, "/exports/shop.json") == sample.shop
    assert got(nobody, "/exports/shop.zip") == sample.archive
    assert db.scalars(select(Shop.is_invented)).all() == [False]


def test_a_bare_file_back_into_the_same_server(sample: Sample, nobody: FlaskClient, db: Session, store: Store) -> None:
    put(nobody, sample.archive, "a.zip")
    files = sorted(name for name, _ in store.kept())
    before = got(nobody, "/exports/shop.json")
    assert put(nobody, before, once="again").status_code == 303
    assert got(nobody, "/exports/shop.json") == before
    first, second = (
        set(db.scalars(select(Photo.sha256).where(Photo.shop_id == shop_id)))
        for shop_id in db.scalars(select(Shop.id).order_by(Shop.id))
    )
    assert first == second
    assert sorted(name for name, _ in store.kept()) == files


def test_a_build_into_another_shop_and_back_into_its_own(
    sample: Sample, owner: FlaskClient, shop: Shop, db: Session
) -> None:
    shop.currency = "EUR"
    db.commit()
    bare, archive = sample.builds[PIECE]
    other = sample.builds["Ash hall table"]
    for number, (file, again) in enumerate(((archive, bare), (bare, bare), (other[1], other[0]))):
        answer = put(owner, file, once=str(number))
        assert answer.status_code == 303, answer.text
        assert got(owner, f"{answer.location}/exports/build.json") == again


def test_what_came_back_is_shown(sample: Sample, nobody: FlaskClient, db: Session, store: Store) -> None:
    """Every page of a build that was put in, its pictures and its plan."""
    put(nobody, sample.archive, "a.zip")
    photo = db.scalars(select(Photo).where(Photo.is_cover, Photo.removed_at.is_(None))).first()
    assert photo is not None
    for size in ("small", "large"):
        assert got(nobody, f"/photos/{photo.id}/{size}.webp")[:4] == b"RIFF"
    assert store.exists(f"{photo.sha256}.original")
    for address in ("/", "/days", "/builds", f"/builds/{photo.build_id}", "/journal", "/costs", "/lookback", "/stock"):
        got(nobody, address)
    said = {"caption": "new words", "version": str(photo.version), "operation": str(photo.operation_id or "")}
    assert nobody.post(f"/photos/{photo.id}", data=said).status_code == 303
    assert "new words" in nobody.get("/journal").text


def test_no_account_and_no_id_of_the_server_is_in_the_file(sample: Sample) -> None:
    text = sample.shop.decode()
    assert [word for word in ("password", "person", "token", '"id"', "_id", "sha256") if word in text] == []


def test_the_document_in_it_can_be_planned(sample: Sample, tmp_path: Path) -> None:
    for file in (sample.shop, *(bare for bare, _ in sample.builds.values())):
        status, out, err = answer(json.dumps(json.loads(file)["document"]))
        assert (status, err) == (0, "")
        assert json.loads(out)["builds"]


def test_the_sample_leaves_no_column_empty(sample: Sample) -> None:
    """Else the same bytes would say nothing about that column."""
    found = json.loads(sample.shop)
    seen: dict[str, set[str]] = {}

    def look(name: str, row: dict[str, object]) -> None:
        seen.setdefault(name, set()).update(key for key, value in row.items() if value not in (None, 0, False))
        for key, below in row.items():
            rows = below if isinstance(below, list) else [below]
            for one in rows:
                if isinstance(one, dict) and key in names:
                    look(key, one)

    names = {kind.name for kind in KINDS}
    look("file", found)
    empty = [f"{kind.name}.{word(one)}" for kind in KINDS for one in kind.columns if word(one) not in seen[kind.name]]
    assert empty == []


def test_the_same_bytes_whenever_it_is_taken_out(sample: Sample, nobody: FlaskClient, app: Flask, db: Session) -> None:
    put(nobody, sample.archive, "a.zip")
    app.config["CLOCK"].forward(days=40)
    assert got(nobody, "/exports/shop.json") == sample.shop
    assert db.scalar(select(func.count()).select_from(Shop)) == 1


def test_what_is_written_meanwhile_is_not_half_in_it(shop: Shop, owner: FlaskClient, db: Session, app: Flask) -> None:
    """All rows are of one moment: somebody begins a piece after the first of them was read."""
    factories.build(db, shop)
    with app.app_context(), sessions().read() as reading:
        rows.of_one_moment(reading)
        here = reading.get_one(Shop, shop.id)
        build = factories.build(db, shop, "Begun meanwhile")
        factories.operation(db, build, "mill")
        found = rows.of_shop(reading, here)
    assert [len(found[name]) for name in ("builds", "operations")] == [1, 0]
