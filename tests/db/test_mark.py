"""Every commit of the app makes the mark anew; what only reads, or is taken back, does not."""

from threading import Barrier, Thread

import pytest
from sqlalchemy import Engine, func, select, text
from sqlalchemy.orm import Session

from tests.conftest import START
from webapp.db.mark import Mark, mark_of
from webapp.db.session import Sessions
from webapp.shops.models import Shop


@pytest.fixture
def sessions(engine: Engine) -> Sessions:
    return Sessions(engine)


def seen(sessions: Sessions) -> int | None:
    with sessions.read() as db:
        return mark_of(db)


def add(db: Session, name: str) -> None:
    units = {"currency": "USD", "length_unit": "in", "temperature_unit": "F"}
    db.add(Shop(name=name, time_zone="UTC", created_at=START, **units))


def test_nothing_is_marked_before_the_first_commit(sessions: Sessions) -> None:
    assert seen(sessions) is None


@pytest.mark.parametrize("change", ["UPDATE shop SET name = 'Other'", "DELETE FROM shop"])
def test_each_commit_has_a_mark_of_its_own(sessions: Sessions, change: str) -> None:
    with sessions.write() as db, db.begin():
        add(db, "Two Bench Shop")
    first = seen(sessions)
    with sessions.write() as db, db.begin():
        db.execute(text(change))
    second = seen(sessions)
    assert len({None, first, second}) == 3
    assert seen(sessions) == second


def test_what_is_taken_back_leaves_the_mark(sessions: Sessions) -> None:
    with sessions.write() as db, db.begin():
        add(db, "Two Bench Shop")
    before = seen(sessions)
    with sessions.write() as db:
        add(db, "Elsewhere")
        db.flush()
        db.rollback()
    assert seen(sessions) == before


def test_many_first_commits_at_once_leave_one_mark(sessions: Sessions) -> None:
    together = Barrier(4)

    def write(number: int) -> None:
        with sessions.write() as db:
            together.wait(10)
            add(db, f"Shop {number}")
            db.commit()

    threads = [Thread(target=write, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with sessions.read() as db:
        assert db.scalar(select(func.count()).select_from(Mark)) == 1
        assert db.scalar(select(func.count()).select_from(Shop)) == 4
