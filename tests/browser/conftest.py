"""A real Chromium against a real server. Each page fails its test when the console says something is wrong."""

import hashlib
import logging
import shutil
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jinja2 import FileSystemBytecodeCache
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright
from sqlalchemy import event
from sqlalchemy.orm import Session
from werkzeug.serving import make_server

from tests.conftest import CHROMIUM, Clock, leave_to_the_system
from webapp.app import create_app
from webapp.db import migrate
from webapp.db.engine import make_engine
from webapp.settings import Settings

ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 800}
# axe-core 4.14.1 from npm (MPL-2.0), package/axe.min.js
AXE = Path(__file__).parent / "vendor" / "axe.min.js"
AXE_SHA256 = "29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c"


class Site:
    """The app, served on a port of its own, with a clock that the test moves for server and browser alike."""

    def __init__(self, folder: Path, clock: Clock, empty: Path | None = None, **settings: Any) -> None:
        """In a new folder; `empty` is a database without rows, beside which is kept what is made of the pages."""
        self.clock = clock
        self.settings = Settings(instance=folder, **{"schedules": 0, **settings})
        folder.mkdir(parents=True, exist_ok=True)
        if empty:
            shutil.copy(empty, folder / "benchtide.db")
        else:
            migrate.upgrade(self.settings.database)
        self.engine = make_engine(self.settings.database)
        event.listen(self.engine, "connect", leave_to_the_system)
        self.app = create_app(self.settings, engine=self.engine, now=clock)
        if empty:
            self.app.jinja_env.bytecode_cache = FileSystemBytecodeCache(str(empty.parent))
        self.app.config.update(PASSWORD_METHOD="pbkdf2:sha256:1")
        logging.getLogger("werkzeug").setLevel(logging.ERROR)
        self.server = make_server("127.0.0.1", 0, self.app, threaded=True)
        self.url = f"http://127.0.0.1:{self.server.server_port}"
        self.thread = threading.Thread(target=self.server.serve_forever, daemon=True)

    def session(self) -> Session:
        return Session(self.engine)

    def forward(self, page: Page, **span: float) -> None:
        """Let time pass, on the server and in the browser."""
        page.clock.set_fixed_time(self.clock.forward(**span))

    def close(self) -> None:
        self.server.shutdown()
        self.thread.join()
        self.server.server_close()
        self.engine.dispose()


@pytest.fixture
def site(tmp_path: Path, clock: Clock, sqlite_template: Path) -> Iterator[Site]:
    found = Site(tmp_path / "instance", clock, sqlite_template)
    found.thread.start()
    yield found
    found.close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield found
        found.close()


def open_page(browser: Browser, site: Site, **options: Any) -> tuple[Page, list[str]]:
    context = browser.new_context(base_url=site.url, **options)
    context.set_default_timeout(8000)
    page = context.new_page()
    page.clock.set_fixed_time(site.clock.moment)
    wrong: list[str] = []

    def note(message: ConsoleMessage) -> None:
        # an answer of 4xx to a form that is to be refused is said in the console too, and is what was asked for
        if message.type in ("error", "warning") and "the server responded with a status of 4" not in message.text:
            wrong.append(message.text)

    page.on("console", note)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    return page, wrong


@pytest.fixture(params=[True, False], ids=["with scripts", "without scripts"])
def phone(request: pytest.FixtureRequest, browser: Browser, site: Site) -> Iterator[Page]:
    """A phone, once with JavaScript and once without."""
    options = {"viewport": PHONE, "has_touch": True, "is_mobile": True, "java_script_enabled": request.param}
    page, wrong = open_page(browser, site, **options)
    yield page
    page.context.close()
    assert not wrong, wrong


@pytest.fixture(scope="session")
def axe() -> str:
    source = AXE.read_bytes()
    assert hashlib.sha256(source).hexdigest() == AXE_SHA256
    return source.decode()
