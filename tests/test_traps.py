"""Traps of the tools this is built with, each of which once cost somebody data, a page or an afternoon."""

import ast
import re
import warnings
from pathlib import Path

import pytest
from alembic.autogenerate.api import AutogenContext
from alembic.autogenerate.render import _repr_type
from alembic.migration import MigrationContext
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine, TypeDecorator, text
from sqlalchemy.exc import SAWarning
from sqlalchemy.orm import Session

from tests import factories
from webapp.db import session as sessions
from webapp.shops.models import Shop
from webapp.tables import metadata

ROOT = Path(__file__).parent.parent


def texts(folder: str, *suffixes: str) -> dict[str, str]:
    """The text files below a folder, by path."""
    return {
        str(path.relative_to(ROOT)): path.read_text(encoding="utf-8")
        for path in sorted((ROOT / folder).rglob("*"))
        if path.suffix in suffixes and "vendor" not in path.parts
    }


def having(pattern: str, found: dict[str, str]) -> list[str]:
    return [path for path, text in found.items() if re.search(pattern, text)]


def test_an_option_given_after_the_first_statement_fails(engine: Engine) -> None:
    """It would be ignored with a warning only, and the write would begin as a read; warnings are errors here."""
    with Session(engine) as db:
        db.execute(text("SELECT 1"))
        with pytest.raises(SAWarning, match="already"):
            db.connection(execution_options={"write": True})


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
@pytest.mark.parametrize(("method", "begins"), [("GET", "BEGIN"), ("POST", "BEGIN IMMEDIATE")])
def test_a_request_that_writes_takes_the_lock_first(app: Flask, method: str, begins: str) -> None:
    """SA05: who reads and then writes in one transaction loses against another writer at once, or loses his update."""
    said: list[str] = []
    with app.test_request_context(method=method):
        connection = sessions.session().connection().connection.driver_connection
        assert connection is not None
        connection.set_trace_callback(said.append)
        sessions.session().rollback()
        sessions.session().execute(text("SELECT 1"))
        connection.set_trace_callback(None)
    assert said[:3] == ["ROLLBACK", begins, "SELECT 1"]


def test_migrations_know_nothing_of_the_app() -> None:
    """A type of ours in an old migration breaks it on the day the type moves."""
    found = texts("migrations/versions", ".py")
    assert found
    assert having(r"\bwebapp\b", found) == []


def test_a_type_of_ours_is_written_as_what_the_database_sees(engine: Engine) -> None:
    """Autogenerate would write its class without an import."""
    render = next(node for node in ast.parse((ROOT / "migrations/env.py").read_text()).body if _is_render(node))
    scope: dict[str, object] = {}
    code = ast.unparse(ast.Module([render], []))
    exec(f"import sqlalchemy as sa\nfrom typing import Any\n{code}", scope)
    with engine.connect() as connection:
        context = MigrationContext.configure(
            connection, opts={"render_item": scope["render_item"], "sqlalchemy_module_prefix": "sa."}
        )
        autogen = AutogenContext(context, metadata)
        ours = {c.type for t in metadata.sorted_tables for c in t.columns if isinstance(c.type, TypeDecorator)}
        assert len({type(one) for one in ours}) >= 2
        assert {written for written in (_repr_type(one, autogen) for one in ours) if not written.startswith("sa.")} == (
            set()
        )


def _is_render(node: ast.stmt) -> bool:
    return isinstance(node, ast.FunctionDef) and node.name == "render_item"


def test_browser_tests_do_not_need_what_the_policy_forbids() -> None:
    """A string to wait for is compiled in the page, and a script tag is put into it: under the CSP both fail."""
    assert having(r"\.wait_for_function\(|add_(script|style)_tag|bypass_csp", texts("tests/browser", ".py")) == []


def test_the_policy_allows_nothing_unsafe(nobody: FlaskClient, owner: FlaskClient) -> None:
    for client, path in ((nobody, "/sign-in"), (owner, "/"), (owner, "/nothing-here")):
        policy = client.get(path).headers["Content-Security-Policy"]
        assert "unsafe" not in policy
        assert "script-src 'self'" in policy


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_long_text_among_files_is_taken(owner: FlaskClient, app: Flask) -> None:
    """SA04: the framework refuses 500,000 bytes of text in a form with files, however large the form may be."""
    assert app.config["MAX_FORM_MEMORY_SIZE"] > 10 * 600_000
    assert app.config["MAX_FORM_PARTS"] > 1001
    assert app.config["MAX_CONTENT_LENGTH"] >= 20 * 8 * 1024 * 1024


def test_no_template_is_compiled_on_each_call() -> None:
    assert having(r"render_template_string|from_string\(", texts("webapp", ".py")) == []


def test_nothing_is_installed_editable() -> None:
    """It leaves copies of the templates behind, which are then served in place of those being written."""
    build = {name: (ROOT / name).read_text() for name in ("Makefile", ".ci/run", ".ci/requirements.py", "README.md")}
    build |= texts("tests", ".sh") | {"DEVELOPERS.md": (ROOT / "DEVELOPERS.md").read_text()}
    assert having(r"--editable|pip install[^\n`]* -e\b", build) == []
    assert having(r"--group\b", build) == []  # pip 23 of Debian 12 does not know it


def test_scripts_do_without_what_plain_http_lacks() -> None:
    """On the shop's network there is no secure context: these are undefined there, and the page would stop."""
    missing = r"randomUUID|crypto\.subtle|serviceWorker|navigator\.clipboard|wakeLock|Notification\b|showSaveFilePicker"
    scripts = texts("static/js", ".js")
    assert scripts
    assert having(missing, scripts) == []


@pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
def test_another_site_is_refused_without_sec_fetch_headers(app: Flask, db: Session, shop: Shop) -> None:
    """Browsers send no Sec-Fetch-Site over plain http: Origin and the token have to do."""
    app.config["WTF_CSRF_ENABLED"] = True
    owner, lan = factories.client_of(app, db, shop, "Ada"), {"base_url": "http://localhost:8000"}
    page = owner.get("/shop/equipment", **lan).text
    data = {"name": "Press", "count": "1", "csrf_token": re.findall(r'name="csrf_token" value="([^"]+)"', page)[0]}
    for origin, status in (("http://elsewhere.test", 403), ("http://localhost:8001", 403), ("null", 403)):
        assert owner.post("/shop/equipment", data=data, headers={"Origin": origin}, **lan).status_code == status
    assert owner.post("/shop/equipment", data=data | {"csrf_token": ""}, **lan).status_code == 400
    own = {"Origin": "http://localhost:8000"}
    assert owner.post("/shop/equipment", data=data, headers=own, **lan).status_code == 303


def test_warnings_are_errors() -> None:
    with pytest.raises(UserWarning, match="x"):
        warnings.warn("x", stacklevel=1)
