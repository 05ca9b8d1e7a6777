"""Files and rows: the file comes first, and what no row names goes away in time."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from flask.testing import FlaskClient
from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import jpeg, photos, send
from webapp.builds.models import Build
from webapp.journal.models import Entry
from webapp.photos.actions import sweep
from webapp.shops.models import Shop
from webapp.web.files import Folder, Store


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def later(**span: float) -> datetime:
    """A moment by the clock of the disk, which no test can set."""
    return datetime.now(UTC) + timedelta(**span)


def test_what_a_row_names_is_kept_also_when_it_was_taken_out(
    owner: FlaskClient, db: Session, build: Build, store: Store
) -> None:
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg("green")), ("b.jpg", jpeg("blue")))
    owner.post(f"/photos/{photos(db)[0].id}/removal")
    assert sweep(store, db, later(days=400)) == []
    assert len([name for name, _ in store.kept() if name.endswith(".original")]) == 2


def test_a_build_that_goes_takes_its_photos_and_then_their_files(
    owner: FlaskClient, db: Session, build: Build, store: Store
) -> None:
    """SA06: deleted in bulk, on both databases: no row is left over, and the files go when they are swept."""
    operation = factories.operation(db, build)
    send(owner, f"operations/{operation.id}", ("a.jpg", jpeg()))
    sha256 = photos(db)[0].sha256
    db.execute(delete(Build))
    db.commit()
    assert photos(db) == []
    assert db.scalars(select(Entry)).all() == []
    assert sweep(store, db, later(hours=23)) == []
    names = sorted(f"{sha256}.{kind}" for kind in ("large.webp", "original", "small.webp"))
    assert sweep(store, db, later(hours=25), delete=False) == names
    assert all(store.exists(name) for name in names)
    assert sweep(store, db, later(hours=25)) == names
    assert not any(store.exists(name) for name in names)


def test_an_operation_that_goes_leaves_its_photos_to_the_build(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA06: the pictures of the work outlive the plan of it."""
    operation = factories.operation(db, build)
    send(owner, f"operations/{operation.id}", ("a.jpg", jpeg()))
    db.rollback()
    db.delete(operation)
    db.commit()
    assert [(photo.build_id, photo.operation_id) for photo in photos(db)] == [(build.id, None)]


def test_the_same_picture_in_two_shops_stays_while_one_has_it(
    owner: FlaskClient, stranger: FlaskClient, db: Session, build: Build, store: Store
) -> None:
    other = db.scalars(select(Shop).where(Shop.name == "Elsewhere")).one()
    theirs = factories.build(db, other)
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()))
    send(stranger, f"builds/{theirs.id}", ("a.jpg", jpeg()))
    db.rollback()
    db.execute(delete(Build).where(Build.shop_id == other.id))
    db.commit()
    assert sweep(store, db, later(days=2)) == []
    assert owner.get(f"/photos/{photos(db)[0].id}/small.webp").status_code == 200


def test_half_a_file_that_a_crash_left_is_swept(db: Session, tmp_path: Path) -> None:
    """Only in a folder: a bucket never shows half a file."""
    folder = tmp_path / "photos" / "ab"
    folder.mkdir(parents=True)
    name = "ab" + "0" * 62 + ".original.x1y2z3_4.part"
    (folder / name).write_bytes(b"half")
    assert sweep(Folder(tmp_path / "photos"), db, later(days=2)) == [name]
    assert list(folder.iterdir()) == []
