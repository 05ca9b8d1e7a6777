"""Requests as somebody who is signed in, each against the same untouched world, with what every answer must keep to."""

import gzip
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any
from zipfile import ZipFile

from flask import Flask
from flask.testing import FlaskClient
from itsdangerous import URLSafeTimedSerializer
from sqlalchemy import Connection, Engine, text
from sqlalchemy.orm import sessionmaker
from werkzeug.datastructures import MultiDict
from werkzeug.routing import Rule
from werkzeug.test import TestResponse

from tests.rights.marks import FIRST, PRICE, THEIRS, twin
from tests.rights.rows import Rows, crossings, dump
from tests.rights.world import Place
from webapp.db.session import SAFE, Sessions
from webapp.web import headers

FILE_NAME = re.compile(r"""(attachment|inline)(; filename=("[\w.,() -]+"|[\w.-]+))?(; filename\*=UTF-8''[\w.%~-]+)?""")
# on every answer, whatever it is
HEADERS = {
    "Content-Security-Policy": headers.POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
CSRF = "0" * 40
WRITTEN = "SELECT sum(n_tup_ins + n_tup_upd + n_tup_del) FROM pg_stat_xact_user_tables"
NOISE = re.compile(r'(?<=name="csrf_token" value=")[^"]*|\b[0-9a-f]{32}\b')
MONEY = {mark: f"{minor // 100:,}.{minor % 100:02}" for mark, minor in PRICE.items()}
Wrong = list[str]


def unpacked(content: bytes) -> str:
    """Return a content as text to look through: an archive with the names and contents of all that is in it."""
    if content.startswith(b"PK"):
        with ZipFile(BytesIO(content)) as archive:
            return "\n".join(f"{name}\n{unpacked(archive.read(name))}" for name in archive.namelist())
    if content.startswith(b"\x1f\x8b"):
        return unpacked(gzip.decompress(content))
    return content.decode("utf-8", "replace")


class Pinned(Sessions):
    """The app's two kinds of session on one connection, in a transaction that is taken back after each request."""

    def __init__(self, engine: Engine, connection: Connection) -> None:
        super().__init__(engine)
        self.read = self.write = sessionmaker(connection, join_transaction_mode="create_savepoint")


@dataclass
class Answer:
    """What came back, and whether anything was stored on the way."""

    asked: str
    response: TestResponse
    wrote: bool
    ours: Rows = field(default_factory=dict)

    @property
    def status(self) -> int:
        return self.response.status_code

    @property
    def text(self) -> str:
        """All that came back, the insides of an archive too."""
        head = "\n".join(f"{name}: {value}" for name, value in self.response.headers)
        return f"{head}\n{unpacked(self.response.get_data())}"

    def said(self, *, but: str) -> tuple[int, str]:
        """Return status and page without what differs from time to time, and without an id that was asked for."""
        place = self.response.headers.get("Location", "")
        page = NOISE.sub("", self.response.get_data().decode("utf-8", "replace"))
        return self.status, f"{place}\n{page}".replace(but, "")


@dataclass
class Sweep:
    """A signed-in browser. What is wrong is collected, and what was looked at is counted."""

    app: Flask
    connection: Connection
    ours: Place
    theirs: Place
    role: str = "owner"
    keeps_ours: bool = False
    wrong: Wrong = field(default_factory=list)
    counted: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        self.begun = self.connection.begin()
        self.untouched: Rows = dump(self.connection, self.theirs.shop_id)
        self.their_ids = re.compile(rf"(?<![\w.])(?:{'|'.join(self._ids())}|zwyndhollow-\d+)(?![\w.])")
        assert crossings(self.connection) == []
        self.client: FlaskClient = self.app.test_client(use_cookies=False)

    def _ids(self) -> set[str]:
        first = FIRST[THEIRS]
        found = (row[0] for rows in self.untouched.values() for row in rows)
        return {str(key) for key in found if isinstance(key, int) and first <= key < first + 100_000}

    def cookie(self, role: str) -> dict[str, str]:
        signer = self.app.session_interface.get_signing_serializer(self.app)  # type: ignore[attr-defined]
        signed_in = {"sign_in": self.ours.token(role), "shop": self.ours.shop_id} if role else {}
        content = {"csrf_token": CSRF, **signed_in}
        return {"Cookie": f"benchtide={signer.dumps(content)}"}

    @property
    def token(self) -> str:
        """A good token for forms of this browser."""
        signer = URLSafeTimedSerializer(self.app.config["SECRET_KEY"], salt="wtf-csrf-token")
        return str(signer.dumps(CSRF))

    def ask(
        self, method: str, address: str, data: Any = None, headers: dict[str, str] | None = None, **more: Any
    ) -> Answer:
        """Send a request, and note what in its answer or in the database breaks a rule that holds for all of them."""
        before = self._written()
        cookie = self.cookie(self.role)
        sent = MultiDict(data) if isinstance(data, list) else data
        response = self.client.open(address, method=method, data=sent, headers={**cookie, **(headers or {})})
        response.get_data()
        response.close()
        answer = Answer(f"{method} {address}", response, self._written() != before)
        self.counted["requests"] += 1
        self._check(answer, method)
        if answer.wrote:
            answer.ours = dump(self.connection, self.ours.shop_id) if self.keeps_ours else {}
            self.begun.rollback()
            self.begun = self.connection.begin()
        return answer

    def _written(self) -> int:
        if self.connection.dialect.name == "sqlite":
            return int(self.connection.connection.driver_connection.total_changes)  # type: ignore[union-attr]
        return int(self.connection.scalar(text(WRITTEN)) or 0)

    def _check(self, answer: Answer, method: str) -> None:
        if answer.status >= 500:
            self.note(answer, "broke")
        self._check_headers(answer)
        if self._tells(answer.text):
            self.note(answer, "tells of the other shop")
        if answer.wrote and method in SAFE:
            self.note(answer, "wrote")
        if answer.wrote:
            self.counted["comparisons of all rows"] += 1
            if dump(self.connection, self.theirs.shop_id) != self.untouched:
                self.note(answer, "changed the other shop")
            for crossing in crossings(self.connection):
                self.note(answer, f"now refers to another shop: {crossing}")

    def _check_headers(self, answer: Answer) -> None:
        found = answer.response.headers
        for name, value in HEADERS.items():
            if found.get(name) != value:
                self.note(answer, f"{name} is {found.get(name)}")
        kept = found.get("Cache-Control", "")
        if kept != "no-store" and not (kept.startswith("private") and answer.response.mimetype == "image/webp"):
            is_static = answer.asked.startswith("GET /static/") and "Set-Cookie" not in found
            if not is_static:
                self.note(answer, f"may be kept: {kept}")
        if "Content-Disposition" in found and not FILE_NAME.fullmatch(found["Content-Disposition"]):
            self.note(answer, f"names a file {found['Content-Disposition']}")
        if answer.status < 400 and not found.get("Location", "/").startswith(("/", "http://localhost/")):
            self.note(answer, f"leads off: {found['Location']}")

    def _tells(self, said: str) -> bool:
        mark = THEIRS.lower()
        return MONEY[THEIRS] in said or (mark in said.lower() and mark in self.their_ids.sub("", said).lower())

    def note(self, answer: Answer, what: str) -> None:
        self.wrong.append(f"{answer.asked}: {answer.status}, {what}")

    def report(self, what: str) -> None:
        """Print what was looked at, and fail where something was wrong."""
        counts = ", ".join(f"{count} {name}" for name, count in self.counted.items())
        print(f"\nrights, {self.connection.dialect.name}, {self.role or 'nobody'}, {what}: {counts}")
        assert not self.wrong, "\n".join(dict.fromkeys(self.wrong))


@dataclass(frozen=True)
class Route:
    endpoint: str
    method: str
    rule: Rule
    values: dict[str, Any]

    def address(self, values: dict[str, Any] | None = None) -> str:
        built = self.rule.build({**self.values, **(values or {})})
        assert built is not None
        return built[1]


def routes(app: Flask, place: Place) -> Iterator[Route]:
    """Yield every route and method of the app, with the values of one shop for its address."""
    for rule in sorted(app.url_map.iter_rules(), key=lambda one: (one.endpoint, one.rule)):
        asked = place.values.get(f"{rule.endpoint}?", {})
        values = {name: _value(rule, name, place.values) for name in rule.arguments} | asked
        for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"}):
            yield Route(rule.endpoint, method, rule, values)


def _value(rule: Rule, name: str, values: dict[str, Any]) -> Any:
    if rule.endpoint == "static":
        return "icon.svg"
    exact = f"{rule.endpoint}:{name}"
    if exact in values or name in values:
        return values.get(exact, values.get(name))
    found = [value for prefix, value in values.items() if f"{rule.endpoint}.".startswith(f"{prefix}.")]
    assert found, f"{rule.rule} needs a value for {name}: tests/rights/world.py, Furnishing.values"
    return found[0]


def is_id(value: Any) -> bool:
    return twin(str(value)) != str(value)
