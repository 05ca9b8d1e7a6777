"""What the databases must do alike, and what SQLite loses unless it is told."""

import threading
from contextlib import ExitStack
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal
from pathlib import Path

import pytest
from sqlalchemy import Engine, select, text
from sqlalchemy.exc import IntegrityError, StatementError
from sqlalchemy.orm import Session, sessionmaker

from tests import factories
from webapp.builds.models import Build, Operation
from webapp.db.engine import KEPT_OPEN, make_engine
from webapp.db.folding import contains
from webapp.shops.models import Equipment, Shop
from webapp.stock.models import Material

ROUNDS = 25
WRITERS = 8


def test_eight_writers_lose_nothing(tmp_path: Path) -> None:
    """SA05: read a number and write it back plus one, eight at once; the driver's own way silently lost most of it."""
    engine = make_engine(f"sqlite:///{tmp_path / 'count.db'}")
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE counter (n INTEGER)"))
        connection.execute(text("INSERT INTO counter VALUES (0)"))
    write = sessionmaker(engine, execution_options={"write": True})

    def work() -> None:
        for _ in range(ROUNDS):
            with write() as db:
                n = db.execute(text("SELECT n FROM counter")).scalar_one()
                db.execute(text("UPDATE counter SET n = :n"), {"n": n + 1})
                db.commit()

    threads = [threading.Thread(target=work) for _ in range(WRITERS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with engine.connect() as connection:
        assert connection.execute(text("SELECT n FROM counter")).scalar_one() == WRITERS * ROUNDS
    engine.dispose()


def test_each_connection_writes_to_disk_before_it_acknowledges(tmp_path: Path) -> None:
    """SA06: foreign keys are off on each new connection of SQLite; all that is asked for is asked of each one."""
    engine = make_engine(f"sqlite:///{tmp_path / 'x.db'}")
    names = ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
    for _ in range(2):
        with ExitStack() as opened:
            connections = [opened.enter_context(engine.connect()) for _ in range(KEPT_OPEN + 2)]
            found = [[one.exec_driver_sql(f"PRAGMA {name}").scalar() for name in names] for one in connections]
        assert found == [["wal", 2, 1, 5000]] * len(connections)
        engine.dispose()  # the next ones are new


@pytest.mark.parametrize("engine", [pytest.param("postgres", marks=pytest.mark.postgres)], indirect=True)
def test_a_database_server_that_is_set_to_acknowledge_early_is_told_not_to(engine: Engine) -> None:
    """The server of the tests runs with synchronous_commit=off; nobody waits for a lock without end."""
    with engine.connect() as connection:
        found = [connection.scalar(text(f"SHOW {name}")) for name in ("synchronous_commit", "lock_timeout")]
    assert found == ["on", "10s"]


def test_a_moment_comes_back_as_it_was_in_utc(db: Session, shop: Shop) -> None:
    """SA08: SQLite drops the offset of a plain timestamp and gives back other hours."""
    far = timezone(timedelta(hours=5))
    build = factories.build(db, shop, created_at=datetime(2026, 3, 8, 0, 0, tzinfo=far))
    db.expire_all()
    assert build.created_at == datetime(2026, 3, 7, 19, 0, tzinfo=UTC)
    assert build.created_at.tzinfo is UTC


def test_a_moment_without_a_zone_is_refused(db: Session, shop: Shop) -> None:
    with pytest.raises(StatementError, match="without a zone"):
        factories.build(db, shop, created_at=datetime(2026, 3, 8))  # noqa: DTZ001


def test_a_tenth_and_a_fifth_are_three_tenths(db: Session, shop: Shop) -> None:
    """SA07: a Numeric column is a float on SQLite."""
    for quantity in ("0.10", "0.20"):
        db.add(
            Material(
                shop_id=shop.id,
                kind="other",
                name="x",
                quantity=Decimal(quantity),
                unit="l",
                unit_price=Decimal("0.0375"),
                total_minor=0,
            )
        )
    db.commit()
    assert sum(db.scalars(select(Material.quantity))) == Decimal("0.30")
    assert set(db.scalars(select(Material.unit_price))) == {Decimal("0.0375")}


def test_deleting_a_build_leaves_no_orphans(db: Session, shop: Shop) -> None:
    """SA06: foreign keys are off on each new SQLite connection unless they are asked for."""
    factories.operation(db, factories.build(db, shop))
    db.execute(text("DELETE FROM build"))
    db.commit()
    assert db.scalars(select(Operation)).all() == []


def test_a_row_that_refers_to_nothing_is_refused(db: Session) -> None:
    db.add(Equipment(shop_id=999, name="clamps", count=1))
    with pytest.raises(IntegrityError):
        db.commit()


@pytest.mark.parametrize("words", ["ébène", "ÉBÈNE", "e\u0301be\u0300ne", "ebene", "  Ébène "])
def test_search_is_blind_to_case_and_accents(engine: Engine, db: Session, shop: Shop, words: str) -> None:
    """SA21: the same answer on both databases."""
    factories.build(db, shop, "Coffret en ÉBÈNE")
    assert [build.name for build in db.scalars(select(Build).where(contains(Build.folded, words)))] == [
        "Coffret en ÉBÈNE"
    ]


def test_search_takes_percent_and_underscore_as_they_are(db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Hall table")
    assert db.scalars(select(Build).where(contains(Build.folded, "%"))).all() == []
    assert db.scalars(select(Build).where(contains(Build.folded, "h_ll"))).all() == []


def test_a_process_of_many_threads_has_connections_for_all(tmp_path: Path) -> None:
    """Threads that wait for each other's connections would be said to be a busy database."""
    engine = make_engine(f"sqlite:///{tmp_path / 'x.db'}", most_open=40)
    with ExitStack() as all_open:
        assert len([all_open.enter_context(engine.connect()) for _ in range(40)]) == 40
    engine.dispose()
