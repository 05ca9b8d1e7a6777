"""A backup of a running server: all that was saved before it began, in one file that was read back."""

import json
import shutil
import sqlite3
import stat
import threading
import zipfile
from contextlib import closing
from io import BytesIO
from pathlib import Path

import pytest
from sqlalchemy import Engine, select, text
from sqlalchemy.orm import Session

from tests import factories
from tests.backups import making
from tests.backups.making import NOW, Elsewhere
from tests.disks import SmallDisk
from tests.disks import small_disk as small_disk
from webapp.backups import actions, restoring
from webapp.backups.actions import BackupError
from webapp.backups.layout import FORMAT, VERSION
from webapp.backups.writing import ENDINGS, size_said
from webapp.db import migrate
from webapp.journal.models import Entry
from webapp.photos.models import Photo
from webapp.tables import metadata
from webapp.web.files import Folder, name_of

ROOT = Path(__file__).parent.parent.parent


def test_it_holds_what_a_copy_of_the_file_lacks(
    sqlite_template: Path, tmp_path: Path, photos: Folder, other: Engine
) -> None:
    """SA19: 50 rows written, the file copied, the backup made; and restored into an empty folder, with photos."""
    path = tmp_path / "running.db"
    path.touch()
    engine = making.empty(sqlite_template, path)
    making.fill(engine)
    with Session(engine) as db:
        ada = factories.maker(db, factories.shop(db), "Ada")
        for number in range(50):
            factories.entry(db, ada, "noted", NOW, note=str(number))
        shutil.copy(path, tmp_path / "copied.db")
        with closing(sqlite3.connect(tmp_path / "copied.db")) as copied:
            assert copied.execute("SELECT count(*) FROM entry").fetchone()[0] < 52
        report = actions.write(engine, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    elsewhere = Folder(tmp_path / "elsewhere")
    restored = restoring.restore(tmp_path / "whole.zip", other, elsewhere, NOW, folder=tmp_path)
    assert making.state(other) == making.state(engine)
    assert len(making.state(other)["entry"]) == 52
    assert making.tree(elsewhere.root) == making.tree(photos.root)
    assert (restored.row_count, restored.photo_count) == (report.row_count, 2)
    engine.dispose()


def test_every_table_is_in_it_with_every_row(full: Engine, photos: Folder, tmp_path: Path) -> None:
    report = actions.write(full, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    manifest = json.loads(making.members(tmp_path / "whole.zip")["manifest.json"])
    assert {name: part["count"] for name, part in manifest["rows"].items()} == dict.fromkeys(metadata.tables, 2)
    assert report.row_count == 2 * len(metadata.tables)
    assert report.is_whole


def test_anybody_can_read_it_without_the_app(full: Engine, photos: Folder, tmp_path: Path) -> None:
    """A zip, JSON, and the pictures as files: nothing else is needed in twenty years."""
    actions.write(full, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    found = making.members(tmp_path / "whole.zip")
    rows = [json.loads(line) for line in found["rows/build.jsonl"].splitlines()]
    assert rows[0]["name"] == f"{making.WORDS} 1"
    assert rows[0]["created_at"] == "2026-02-03 19:18:00.000000"
    manifest = json.loads(found["manifest.json"])
    assert (manifest["format"], manifest["version"]) == (FORMAT, VERSION)
    assert found[f"photos/{making.PHOTOS[0]}.original"] == b"original 1"
    assert b"benchtide restore" in found["README.txt"]


def test_both_databases_give_the_same_file(full: Engine, archive: Path, photos: Folder, tmp_path: Path) -> None:
    actions.write(full, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    assert making.members(tmp_path / "whole.zip") == making.members(archive)


def test_the_version_is_that_of_the_package() -> None:
    assert f'version = "{VERSION}"' in (ROOT / "pyproject.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("size", "says"), [(10_639, "10.6 kB"), (999_960, "1000.0 kB"), (1_000_000, "1.0 MB"), (1_234_567_890, "1.2 GB")]
)
def test_its_size_is_said_in_words(size: int, says: str) -> None:
    assert size_said(size) == says


def test_what_was_saved_before_it_began_is_in_it_while_others_write(
    engine: Engine, db: Session, tmp_path: Path, other: Engine
) -> None:
    """SA19: rows and photos that were acknowledged before; the short form of the loop in tests/faults."""
    ada = factories.maker(db, factories.shop(db), "Ada")
    shop_id, maker_id = ada.shop_id, ada.id
    store, acknowledged, enough = Folder(tmp_path / "store"), [], threading.Event()
    stop = threading.Event()

    def work(writer: int) -> None:
        number = 0
        while not stop.is_set() and number < 400:
            number += 1
            content = BytesIO(f"{writer}-{number}".encode())
            sha256 = name_of(content)
            for ending in ENDINGS:
                store.put(f"{sha256}.{ending}", BytesIO(content.getvalue()))
            with Session(engine, execution_options={"write": True}) as own:
                own.add(
                    Entry(id=sha256, shop_id=shop_id, maker_id=maker_id, kind="noted", at=NOW, arrived_at=NOW, data={})
                )
                own.add(Photo(shop_id=shop_id, sha256=sha256, sent_name="a", width=1, height=1, at=NOW))
                own.commit()
            acknowledged.append(sha256)
            if number > 5:
                enough.set()

    writers = [threading.Thread(target=work, args=(number,)) for number in range(3)]
    for writer in writers:
        writer.start()
    assert enough.wait(20)
    before = set(acknowledged)
    report = actions.write(engine, store, tmp_path / "whole.zip", NOW, folder=tmp_path)
    stop.set()
    for writer in writers:
        writer.join()
    elsewhere = Folder(tmp_path / "elsewhere")
    restoring.restore(tmp_path / "whole.zip", other, elsewhere, NOW, folder=tmp_path)
    with Session(other) as found:
        entries, named = set(found.scalars(select(Entry.id))), set(found.scalars(select(Photo.sha256)))
    assert before <= entries
    assert entries == named
    assert report.is_whole
    for sha256 in named:
        with elsewhere.open(f"{sha256}.original") as file:
            assert name_of(file) == sha256


def test_a_file_that_is_missing_or_damaged_is_named_and_the_rest_is_kept(
    full: Engine, photos: Folder, tmp_path: Path, other: Engine
) -> None:
    first, second = making.PHOTOS
    photos.delete(f"{first}.large.webp")
    place = photos.path(f"{second}.original")
    assert place is not None
    place.write_bytes(b"not what it was")
    report = actions.write(full, photos, tmp_path / "lacking.zip", NOW, folder=tmp_path)
    assert report.missing == (f"{first}.large.webp",)
    assert report.damaged == (f"{second}.original",)
    assert not report.is_whole
    restored = restoring.restore(tmp_path / "lacking.zip", other, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    assert restored.missing == (f"{first}.large.webp", f"{second}.original")
    assert making.state(other) == making.state(full)


def test_a_store_without_a_folder_of_its_own_will_do(full: Engine, tmp_path: Path, other: Engine) -> None:
    store, elsewhere = Elsewhere(), Elsewhere()
    making.add_photos(store)
    actions.write(full, store, tmp_path / "whole.zip", NOW, folder=tmp_path)
    restoring.restore(tmp_path / "whole.zip", other, elsewhere, NOW, folder=tmp_path)
    assert elsewhere.files == store.files


def test_more_than_an_old_zip_can_hold(
    full: Engine, photos: Folder, tmp_path: Path, other: Engine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Past four gigabytes a zip counts in other fields; here past a thousand bytes and ten files."""
    monkeypatch.setattr(zipfile, "ZIP64_LIMIT", 1000)
    monkeypatch.setattr(zipfile, "ZIP_FILECOUNT_LIMIT", 10)
    actions.write(full, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    assert b"PK\x06\x06" in (tmp_path / "whole.zip").read_bytes()  # the other way of counting
    restoring.restore(tmp_path / "whole.zip", other, Folder(tmp_path / "b"), NOW, folder=tmp_path)
    assert making.state(other) == making.state(full)


@pytest.fixture
def small(sqlite_template: Path, tmp_path: Path) -> Engine:
    return making.empty(sqlite_template, tmp_path / "small.db")


def test_only_its_owner_may_read_the_file(small: Engine, photos: Folder, tmp_path: Path) -> None:
    actions.write(small, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    assert stat.S_IMODE((tmp_path / "whole.zip").stat().st_mode) == 0o600
    small.dispose()


def test_the_backup_of_yesterday_is_replaced_and_nothing_else(small: Engine, photos: Folder, tmp_path: Path) -> None:
    path = tmp_path / "whole.zip"
    actions.write(small, photos, path, NOW, folder=tmp_path)
    first = path.read_bytes()
    making.fill(small)
    actions.write(small, photos, path, NOW, folder=tmp_path)
    assert path.read_bytes() != first
    path.write_bytes(b"the only photo of grandfather")
    with pytest.raises(BackupError, match="something else already"):
        actions.write(small, photos, path, NOW, folder=tmp_path)
    assert path.read_bytes() == b"the only photo of grandfather"
    actions.write(small, photos, path, NOW, folder=tmp_path, replace=True)
    assert actions.is_backup(path)
    for wrong, says in ((tmp_path, "is a folder"), (tmp_path / "nowhere" / "x.zip", "There is no folder")):
        with pytest.raises(BackupError, match=says):
            actions.write(small, photos, wrong, NOW, folder=tmp_path)
    small.dispose()


def test_a_full_disk_is_said_and_leaves_nothing_half_written(
    small: Engine, photos: Folder, tmp_path: Path, small_disk: SmallDisk
) -> None:
    path = small_disk.folder / "whole.zip"
    actions.write(small, photos, path, NOW, folder=tmp_path)
    before = path.read_bytes()
    making.fill(small)
    with small_disk.full(), pytest.raises(BackupError, match="There is no room for it"):
        actions.write(small, photos, path, NOW, folder=tmp_path)
    assert path.read_bytes() == before
    assert [one.name for one in small_disk.folder.iterdir()] == ["whole.zip"]
    small.dispose()


def test_a_database_whose_rows_have_lost_each_other_is_not_passed_off_as_whole(
    small: Engine, photos: Folder, tmp_path: Path
) -> None:
    with migrate.for_migrating(str(small.url)) as unchecked, unchecked.begin() as connection:
        connection.execute(text("INSERT INTO equipment (id, shop_id, name, count) VALUES (1, 9, 'clamps', 4)"))
    with pytest.raises(BackupError, match="damaged"):
        actions.write(small, photos, tmp_path / "whole.zip", NOW, folder=tmp_path)
    assert not (tmp_path / "whole.zip").exists()
    assert not list(tmp_path.glob(".*"))
    small.dispose()
