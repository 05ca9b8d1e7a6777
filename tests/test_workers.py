"""Two processes of gunicorn on PostgreSQL, with the photos in a bucket: what one does the other knows."""

import re
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest
from sqlalchemy import create_engine, func, make_url, select, text
from sqlalchemy.orm import Session

from tests import buckets, postgres
from tests.faults.browser import Answer, Browser
from tests.faults.load import begin_build, begin_shop, picture
from tests.faults.servers import ROOT, NotStartedError
from tests.workers import Workers
from webapp.builds.models import Build
from webapp.db.engine import make_engine
from webapp.journal.models import Entry
from webapp.people import actions as people
from webapp.people import brake
from webapp.photos.models import Photo
from webapp.settings import Settings
from webapp.web.clock import system
from webapp.web.files import store_of

pytestmark = pytest.mark.postgres

AT_ONCE = 12
WORDS = "plane iron walnut"
WHO = "--access-logfile - --access-logformat '%(p)s %(m)s %(U)s %(s)s'"
SERVED = re.compile(r"^<(\d+)> (\w+) (\S+) (\d+)$", re.MULTILINE)


@pytest.fixture(scope="module")
def database(postgres_server: postgres.Server) -> str:
    """A database beside that of the other tests, on the same server."""
    engine = create_engine(postgres_server.url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text("DROP DATABASE IF EXISTS workers"))
        connection.execute(text("CREATE DATABASE workers"))
    engine.dispose()
    return make_url(postgres_server.url).set(database="workers").render_as_string(hide_password=False)


@pytest.fixture(scope="module")
def server(database: str, bucket_server: buckets.Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workers]:
    more = {"BENCHTIDE_PHOTOS": bucket_server.place(), "BENCHTIDE_MAX_UPLOAD_MB": "2", "GUNICORN_CMD_ARGS": WHO}
    home = {"HOME": "/proc/nowhere", "XDG_RUNTIME_DIR": ""}  # nothing can be written there
    place = tmp_path_factory.mktemp("workers") / "instance"
    with Workers(place, database, **dict(bucket_server.aws), **more, **home) as found:
        yield found
        found.stop()


@pytest.fixture(scope="module")
def owner(server: Workers) -> Browser:
    return begin_shop(server.base)


@pytest.fixture
def db(database: str) -> Iterator[Session]:
    engine = make_engine(database)
    with Session(engine, execution_options={"write": False}) as found:
        yield found
    engine.dispose()


def another(browser: Browser) -> Browser:
    """The same visitor in another tab."""
    found = Browser(f"http://{browser.host}:{browser.port}")
    found.cookies, found.token = dict(browser.cookies), browser.token
    return found


def at_once(browser: Browser, send: Callable[[Browser, int], Answer]) -> list[Answer]:
    """Send from many tabs at one moment: more than the threads of one process, so that both have to answer."""
    start = Barrier(AT_ONCE)

    def one(number: int) -> Answer:
        tab = another(browser)
        start.wait()
        return send(tab, number)

    with ThreadPoolExecutor(AT_ONCE) as tabs:
        return list(tabs.map(one, range(AT_ONCE)))


def processes(server: Workers, method: str, path: str) -> set[str]:
    """Return which processes have answered so far."""
    return {who for who, how, what, _ in SERVED.findall(server.said()) if (how, what) == (method, path)}


def test_it_says_where_it_is(server: Workers, owner: Browser) -> None:
    assert server.said().startswith(f"Benchtide is at {server.base}\n")


def test_both_know_who_signed_in_and_what_was_stored(server: Workers, owner: Browser, db: Session) -> None:
    build = begin_build(owner, "Blanket chest")
    answers = at_once(owner, lambda tab, _: tab.get(f"/builds/{build}"))
    assert {answer.status for answer in answers} == {200}
    assert all("Blanket chest" in answer.text for answer in answers)
    assert len(processes(server, "GET", f"/builds/{build}")) == 2


def test_photos_that_one_took_the_other_shows(
    server: Workers, owner: Browser, db: Session, bucket_server: buckets.Server
) -> None:
    build = begin_build(owner, "Side table")
    path = f"/builds/{build}/photos/new"
    answers = at_once(owner, lambda tab, one: tab.send(path, {}, [("photos", "a.jpg", picture(f"{one // 2}"))]))
    assert all('"stored":1' in answer.text for answer in answers)
    assert len(processes(server, "POST", path)) == 2
    photos = db.scalars(select(Photo).where(Photo.build_id == build)).all()
    assert len(photos) == AT_ONCE // 2  # each was sent twice at one moment
    shown = at_once(owner, lambda tab, one: head(tab, f"/photos/{photos[one // 2].id}/small.webp"))
    assert {answer.status for answer in shown} == {200}
    assert not (server.instance / "photos").exists()
    place = Settings(photo_store=server.environ["BENCHTIDE_PHOTOS"], aws=bucket_server.aws)
    assert len(list(store_of(place).kept())) == 3 * len(photos)


def head(tab: Browser, path: str) -> Answer:
    return tab._send("HEAD", path, b"", {})


def test_sent_twice_to_both_is_once(server: Workers, owner: Browser, db: Session) -> None:
    """SA15: a key per form, kept in the database, whichever process it reaches."""
    fields = {"name": "Wall cabinet", "status": "in the making", "weight": "1", "once": "the same form"}
    before = len(processes(server, "POST", "/builds"))
    answers = at_once(owner, lambda tab, _: tab.post("/builds", fields))
    assert {answer.status for answer in answers} == {303}
    assert len({answer.location for answer in answers}) == 1
    assert db.scalar(select(func.count()).where(Build.name == "Wall cabinet")) == 1
    assert max(before, len(processes(server, "POST", "/builds"))) == 2


def test_a_sign_in_holds_for_both_until_it_is_ended(server: Workers, owner: Browser, db: Session) -> None:
    people.add_person(db, "Zoe", WORDS, system())
    db.commit()
    zoe = Browser(server.base)
    zoe.get("/sign-in")
    assert zoe.post("/sign-in", {"name": "Zoe", "password": WORDS}).status == 303
    assert {answer.status for answer in at_once(zoe, lambda tab, _: tab.get("/sign-ins"))} == {200}
    kept = another(zoe)
    zoe.get("/sign-ins")
    assert zoe.post("/sign-out", {}).location == "/sign-in"
    assert {answer.status for answer in at_once(kept, lambda tab, _: tab.get("/sign-ins"))} == {303}


def test_wrong_passwords_count_together(server: Workers, owner: Browser) -> None:
    """The brake stands in the database: guessing at two processes is no quicker."""
    guesser = Browser(server.base)
    guesser.get("/sign-in")
    fields = {"name": "Ada", "password": "wrong"}
    answers = [another(guesser).post("/sign-in", fields) for _ in range(brake.TRIES)]
    assert {answer.status for answer in answers} == {422}
    assert {answer.status for answer in at_once(guesser, lambda tab, _: tab.post("/sign-in", fields))} == {429}
    assert len(processes(server, "POST", "/sign-in")) == 2


def test_a_body_over_the_limit_gets_a_page_not_a_reset(server: Workers, owner: Browser) -> None:
    """SA04: as with the other server; 3 MB where 2 are taken."""
    build = begin_build(owner, "Bench")
    tab = another(owner)
    answer = tab.send(f"/builds/{build}/photos/new", {}, [("photos", "a.jpg", bytes(3 << 20))])
    assert answer.status == 413
    assert "smaller photos" in answer.text


def test_nobody_is_believed_to_be_a_proxy_unless_the_settings_say_so(server: Workers, owner: Browser) -> None:
    """SA11: gunicorn by itself would believe whoever sits on this computer."""
    visitor = Browser(server.base)
    forged = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "evil.example", "X-Forwarded-For": "203.0.113.9"}
    answer = visitor._send("GET", "/builds", b"", forged)
    assert answer.status == 303
    assert answer.location.startswith("/sign-in")
    assert "secure" not in str(visitor.cookies).lower()


def test_a_stop_lets_what_is_on_its_way_arrive(server: Workers, owner: Browser, db: Session) -> None:
    """The last test of this server."""
    build = begin_build(owner, "Stool")
    body = f"id=late-line&note=Seat+is+dry&csrf_token={owner.token}".encode()
    cookie = "; ".join(f"{name}={value}" for name, value in owner.cookies.items())
    head = (
        f"POST /builds/{build}/note HTTP/1.1\r\nHost: 127.0.0.1:{server.port}\r\nCookie: {cookie}\r\n"
        f"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    with socket.create_connection(("127.0.0.1", server.port), 20) as line:
        line.sendall(head.encode() + body[:10])
        assert Browser(server.base).get("/sign-in").status == 200  # came later: so the other has been taken in
        assert server.process is not None
        server.process.send_signal(signal.SIGTERM)
        line.sendall(body[10:])
        assert line.recv(12) == b"HTTP/1.1 303"
    assert server.process.wait(20) == 0
    assert db.scalar(select(func.count()).where(Entry.id == "late-line")) == 1


def test_sqlite_serves_one_process(tmp_path: Path) -> None:
    with pytest.raises(NotStartedError, match=r"^SQLite serves one process\. Set DATABASE_URL"):
        Workers(tmp_path / "instance").begin()


def test_without_our_settings_the_second_process_on_sqlite_says_why_and_all_end(tmp_path: Path) -> None:
    environ = Workers(tmp_path / "instance").environ
    command = ["-m", "gunicorn", "-w", "2", "--no-control-socket", "-b", "127.0.0.1:0", "webapp.wsgi:app"]
    done = subprocess.run([sys.executable, *command], cwd=ROOT, env=environ, capture_output=True, text=True, timeout=60)
    assert done.returncode == 4
    assert "several servers at once need PostgreSQL" in done.stderr


def test_a_bucket_that_is_not_there_is_said_before_it_serves(
    database: str, bucket_server: buckets.Server, tmp_path: Path
) -> None:
    aws = dict(bucket_server.aws)
    with pytest.raises(NotStartedError, match=r"Photos cannot be kept in s3://nowhere/x: .* no such bucket"):
        Workers(tmp_path / "instance", database, BENCHTIDE_PHOTOS="s3://nowhere/x", **aws).begin()
