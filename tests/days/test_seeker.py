"""A better order of work is found beside the requests, and the next page shows it."""

import json
import logging
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from threading import Event

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from tests.planning.invent import document as invented
from webapp.builds.models import Build
from webapp.days import actions, orders
from webapp.days.orders import Known, laid_at_once
from webapp.days.seeker import Job, Seeker
from webapp.planning.document import read
from webapp.shops.models import Shop

ROOT = Path(__file__).parent.parent.parent
CASES = json.loads((ROOT / "tests/reference/cases/order.json").read_text(encoding="utf-8"))
LATE_FIRST = next(case for case in CASES if case["about"] == "the one that would be late goes first")
NOW = datetime(2026, 2, 2, 13, tzinfo=UTC)  # of the case: Monday, 08:00
FRIDAY, MONDAY = date(2026, 2, 6), date(2026, 2, 2)
# what the pages say of B
B_LATE, B_HOLDS = 'due Mon 2: <b class="late">16 h late</b>', 'due Mon 2: <b class="go">holds</b>'
SAID = "Below stands a better order of work, found at 08:00: 16 h less late."


class Gate:
    """Holds up a search until it is opened."""

    def __init__(self) -> None:
        self.opened, self.reached = Event(), Event()

    def __call__(self) -> None:
        self.reached.set()
        assert self.opened.wait(60)


@pytest.fixture
def gate() -> Gate:
    return Gate()


@pytest.fixture
def begin(monkeypatch: pytest.MonkeyPatch, app: Flask, clock: Clock) -> Iterator[Callable[..., Seeker]]:
    """Switch the search on; a request tries no order beside the one it knows, as in a large shop."""
    begun: list[Seeker] = []

    def begin(rest: Callable[[], object] = lambda: None, schedules: int = 20) -> Seeker:
        begun.append(Seeker(rest))
        monkeypatch.setattr(actions, "seeker", begun[-1])
        app.config["SETTINGS"] = replace(app.config["SETTINGS"], schedules=schedules)
        return begun[-1]

    monkeypatch.setattr(orders, "AT_ONCE", 1)
    clock.moment = NOW
    yield begin
    assert all(seeker.wait() for seeker in begun)


@pytest.fixture
def b(db: Session, shop: Shop) -> Build:
    """The builds of the case, but that B is due on Friday as A is; returns B."""
    for build in LATE_FIRST["document"]["builds"]:
        row = factories.build(db, shop, build["name"], due_on=FRIDAY)
        for one in build["operations"]:
            factories.operation(db, row, one["key"], kind=one["kind"], minutes=one["minutes"])
    return row


def days(client: FlaskClient) -> str:
    answer = client.get("/days")
    assert answer.status_code == 200
    return " ".join(answer.text.split())


def is_due(db: Session, build: Build, on: date) -> None:
    build.due_on = on
    db.commit()


def test_the_next_page_shows_what_was_found(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker]
) -> None:
    seeker = begin()
    days(owner)
    seeker.wait()
    assert "better order" not in days(owner)
    is_due(db, b, MONDAY)
    assert B_LATE in days(owner)
    seeker.wait()
    found = days(owner)
    assert B_HOLDS in found
    assert SAID in found
    assert days(owner) == found


def test_the_order_found_is_kept_after_an_edit(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker]
) -> None:
    seeker = begin()
    is_due(db, b, MONDAY)
    days(owner)
    seeker.wait()
    begin(schedules=0)
    is_due(db, b, FRIDAY)
    b.name = "Renamed"
    db.commit()
    factories.operation(db, b, "sand", after=[b.operations[0]], minutes=30)
    found = days(owner)
    at = [found.index(f"{time}</span> <div><a") for time in ("08:00–13:00", "13:00–13:30", "13:30–17:00")]
    assert at == sorted(at)
    assert found.index("Renamed</span>") < found.index(">Sand</a>") < found.index(">A</span>")


def test_a_change_during_a_search_is_not_lost(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker], gate: Gate
) -> None:
    seeker = begin(gate)
    days(owner)
    assert gate.reached.wait(60)
    is_due(db, b, MONDAY)
    assert B_LATE in days(owner)
    gate.opened.set()
    seeker.wait()
    assert B_HOLDS in days(owner)


def test_a_small_shop_is_right_at_once(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.undo()
    days(owner)
    is_due(db, b, MONDAY)
    assert B_HOLDS in days(owner)


def test_switched_off_nothing_is_searched(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker], gate: Gate
) -> None:
    begin(gate, schedules=0)
    days(owner)
    is_due(db, b, MONDAY)
    for _ in range(2):
        assert B_LATE in days(owner)
    assert not gate.reached.is_set()


def test_one_document_is_searched_once_an_hour(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker], clock: Clock
) -> None:
    pauses: list[None] = []
    seeker = begin(lambda: pauses.append(None))
    seen = []
    for minutes in (0, 10, 40, 10):
        clock.forward(minutes=minutes)
        days(owner)
        seeker.wait()
        seen.append(len(pauses))
    assert seen[0] == seen[1] == seen[2] > 0
    assert seen[3] > seen[2]


def test_an_error_is_logged_once_and_the_plan_stays(
    owner: FlaskClient, db: Session, b: Build, begin: Callable[..., Seeker], caplog: pytest.LogCaptureFixture
) -> None:
    def fail() -> None:
        raise RuntimeError("a bug")

    seeker = begin(fail)
    is_due(db, b, MONDAY)
    before = days(owner)
    seeker.wait()
    assert days(owner) == before
    seeker.wait()
    assert [(one.name, one.levelno) for one in caplog.records] == [("webapp.days.seeker", logging.ERROR)]


def test_the_same_document_gives_the_same_order_in_each_process() -> None:
    for seed in range(3):
        document = read(invented(seed))
        steps = tuple(range(100, 100 + sum(len(build.operations) for build in document.builds)))
        found = []
        for _ in range(2):
            known, seeker = Known(), Seeker(lambda: None)
            known.put(laid_at_once(document, steps, None)[0], instead_of=None)
            seeker.seek(Job(known, document, steps, 20, lambda: NOW))
            assert seeker.wait()
            found.append(known.order)
        assert found[0] is not None
        assert found[0].searched is not None
        assert found[0] == found[1]


ENDS = """
from time import sleep
from webapp.days.orders import Known, Order
from webapp.days.seeker import Job, Seeker
from webapp.planning.network import Build, Document, Opening, Operation, Shop
build = Build("Stool", tuple(Operation(key, "mill", 60) for key in "ab"))
known = Known()
known.put(Order((0, 1)), instead_of=None)
begun = []
seeker = Seeker(lambda: begun.append(sleep(600)))
seeker.seek(Job(known, Document(0, Shop("UTC", (Opening((3,), 480, 1020),)), builds=(build,)), (0, 1), 9, None))
assert not seeker.wait(0.2)
"""


def test_a_process_that_ends_does_not_wait_for_it() -> None:
    done = subprocess.run([sys.executable, "-c", ENDS], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
