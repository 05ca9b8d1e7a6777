"""The commands that make accounts and serve."""

import http.client
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from pathlib import Path

import pytest
from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp import cli
from webapp.db.engine import make_engine
from webapp.people import actions as people
from webapp.people.models import Person
from webapp.settings import Settings

ROOT = Path(__file__).parent.parent
WORDS = "plane iron walnut"


@pytest.fixture
def instance(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name in [name for name in os.environ if name.startswith("BENCHTIDE_") or name == "DATABASE_URL"]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("BENCHTIDE_INSTANCE", str(tmp_path))
    monkeypatch.setattr(people, "METHOD", "pbkdf2:sha256:1")
    return tmp_path


def run(monkeypatch: pytest.MonkeyPatch, *arguments: str, typed: str = "") -> int | str | None:
    monkeypatch.setattr(sys, "stdin", StringIO(typed))
    with pytest.raises(SystemExit) as left:
        cli.main(list(arguments))
    return left.value.code


def stored(instance: Path) -> list[Person]:
    engine = make_engine(Settings(instance=instance).database)
    with Session(engine) as db:
        found = list(db.scalars(select(Person)))
    engine.dispose()
    return found


def test_an_account_is_added(
    instance: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "account", "add", " Ada ", typed=f"{WORDS}\n") == 0
    assert capsys.readouterr().out == "Ada: added\n"
    ada = stored(instance)[0]
    assert ada.name == "Ada"
    assert people.check_password(ada, WORDS)


def test_the_same_name_again_is_given_a_new_password(
    instance: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    run(monkeypatch, "account", "add", "Ada", typed=WORDS)
    assert run(monkeypatch, "account", "add", "ÁDA", typed="rabbet block maple") == 0
    assert "has a new password" in capsys.readouterr().out
    assert len(stored(instance)) == 1
    assert people.check_password(stored(instance)[0], "rabbet block maple")


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [("Ada", "short\n", "At least 10 characters"), ("Ada", "          \n", "At least"), ("  ", WORDS, "needs a name"),
     ("Ada", "x" * 201, "At most 200 characters"), ("A" * 201, WORDS, "at most 200 characters")],
)  # fmt: skip
def test_a_bad_name_or_password_is_refused(
    instance: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    name: str,
    typed: str,
    says: str,
) -> None:
    assert run(monkeypatch, "account", "add", name, typed=typed) == 1
    assert says in capsys.readouterr().err


@pytest.mark.parametrize("host", ["0.0.0.0", "192.0.2.7", "::"])
def test_it_refuses_to_be_reached_by_others_before_somebody_has_a_password(
    instance: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], host: str
) -> None:
    monkeypatch.setenv("BENCHTIDE_HOST", host)
    said = str(run(monkeypatch, "serve"))
    assert "no account has a password yet" in said
    assert "benchtide account add" in said
    assert capsys.readouterr().out == ""


def test_a_setting_that_is_wrong_is_said_in_a_line(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BENCHTIDE_PORT", "eighty")
    assert run(monkeypatch, "serve") == "BENCHTIDE_PORT must be a whole number, not 'eighty'"


@contextmanager
def served(instance: Path, **more: str) -> Iterator[int]:
    """The real server, on a free port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = int(probe.getsockname()[1])
    environ = {**os.environ, "BENCHTIDE_INSTANCE": str(instance), "BENCHTIDE_PORT": str(port), **more}
    command = [sys.executable, "-m", "webapp", "serve"]
    with subprocess.Popen(command, cwd=ROOT, env=environ, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout is not None
            assert server.stdout.readline().startswith("Benchtide is at http://")
            for _ in range(100):
                with socket.socket() as probe:
                    if probe.connect_ex(("127.0.0.1", port)) == 0:
                        break
                time.sleep(0.05)
            yield port
        finally:
            server.terminate()


def get(port: int, path: str, **headers: str) -> tuple[int, str, str]:
    """Return status, body and cookie of a page of the real server."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=20)
    connection.request("GET", path, headers={name.replace("_", "-"): value for name, value in headers.items()})
    answer = connection.getresponse()
    body = answer.read().decode()
    connection.close()
    return answer.status, body, answer.getheader("Set-Cookie") or ""


def test_served_here_the_first_visitor_is_welcome_unless_something_stands_between(instance: Path) -> None:
    """SA11: the server must not take away what a proxy leaves behind, or everybody would seem to sit here."""
    with served(instance) as port:
        status, page, _ = get(port, "/welcome")
        assert status == 200
        assert "Start my own shop" in page
        for header in ("X_Forwarded_For", "X_Forwarded_Proto", "Forwarded"):
            assert "Start my own shop" not in get(port, "/welcome", **{header: "203.0.113.9"})[1]
        assert get(port, "/welcome", Host="evil.example")[0] == 400


def test_served_behind_a_proxy_it_believes_the_proxy(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SA11: with BENCHTIDE_PROXIES=1 the cookie is Secure when the proxy speaks https, and not otherwise."""
    run(monkeypatch, "account", "add", "Ada", typed=WORDS)
    forwarded = {"X_Forwarded_For": "203.0.113.9", "X_Forwarded_Host": "shop.example"}
    with served(instance, BENCHTIDE_PROXIES="1", BENCHTIDE_TRUSTED_HOSTS="shop.example") as port:
        assert "Secure" in get(port, "/sign-in", X_Forwarded_Proto="https", **forwarded)[2]
        plain = get(port, "/sign-in", X_Forwarded_Proto="http", **forwarded)[2]
        assert plain.startswith("benchtide=")
        assert "Secure" not in plain


def test_served_to_all_with_a_password_it_says_where(instance: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    run(monkeypatch, "account", "add", "Ada", typed=WORDS)
    with served(instance, BENCHTIDE_HOST="0.0.0.0") as port:
        status, page, cookie = get(port, "/sign-in")
        assert status == 200
        assert "Sign in" in page
        assert "Secure" not in cookie
