"""The server is killed while a maker writes and sends photos; every acknowledged line and photo is there afterwards."""

import time
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from random import Random

from tests.faults.browser import Browser
from tests.faults.checks import look
from tests.faults.figures import Figures
from tests.faults.ledger import Ledger
from tests.faults.load import Maker, begin_build, begin_shop
from tests.faults.servers import Benchtide
from tests.postgres import Server

LONGEST = 0.03  # seconds from an acknowledgement to the kill: it falls anywhere into the next ones
PATIENCE = 120.0


@dataclass
class Kills:
    """Rounds of writing, each with one kill at a chosen number of acknowledgements."""

    server: Benchtide
    chance: Random
    notes: int
    photos: int
    database: Server | None = None
    every: int = 4  # of so many rounds, in one the database server dies as well
    ledger: Ledger = field(default_factory=Ledger)
    wrong: list[str] = field(default_factory=list)
    swept: int = 0
    databases_killed: int = 0
    maker: Maker | None = None

    def run(self, rounds: int) -> Figures:
        self.server.begin()
        browser = begin_shop(self.server.base)
        with ThreadPoolExecutor(1) as threads:
            for number in range(1, rounds + 1):
                build = begin_build(browser, f"Table {number}")
                self.maker = Maker(browser, build, self.ledger)
                work = threads.submit(self.maker.work, self.notes, self.photos, f"Table {number}")
                try:
                    self._round(number, work)
                    work.result()
                finally:
                    self.maker.stop.set()
        self.server.kill()
        return self._figures(rounds)

    def _round(self, number: int, work: Future[None]) -> None:
        before = len(self.ledger)
        self._until(before + self.chance.randrange(1, self.notes + self.photos), work)
        time.sleep(self.chance.uniform(0, LONGEST))
        if self.database is not None and number % self.every == 0:
            self._kill_database(self.database, work, also_server=number % (2 * self.every) == 0)
        self.server.kill()
        if self.database is not None and not self._is_up(self.database):
            self.database.begin()
        found = look(self.server.url, self.server.settings.photos, self.ledger.so_far())
        self.wrong += [f"round {number}: {one}" for one in found.wrong]
        self.swept += found.swept
        self.server.begin()

    def _kill_database(self, database: Server, work: Future[None], *, also_server: bool) -> None:
        """Kill it under the server, which says so on its pages and goes on by itself when the database is back."""
        database.stop()
        self.databases_killed += 1
        if also_server:
            return
        page = Browser(self.server.base).get("/builds")
        if page.status != 503 or "The database server does not answer." not in page.text:
            self.wrong.append(f"without its database the page says {page.status}: {page.text[:200]}")
        database.begin()
        if not work.done():
            self._until(len(self.ledger) + 1, work)

    def _is_up(self, database: Server) -> bool:
        return (database.folder / "data" / "postmaster.pid").exists()

    def _until(self, count: int, work: Future[None]) -> None:
        """Wait for so many acknowledgements in all."""
        end = time.monotonic() + PATIENCE
        while len(self.ledger) < count and not work.done():
            if time.monotonic() > end:
                raise TimeoutError(f"{len(self.ledger)} of {count} acknowledged; {self.ledger.strange[-1:]}")
            time.sleep(0.002)

    def _figures(self, rounds: int) -> Figures:
        wanted = self.ledger.so_far()
        found = look(self.server.url, self.server.settings.photos, wanted)
        wrong = (*self.wrong, *found.wrong, *self.ledger.strange)
        more = (
            f"{len(wanted.notes)} entries, {len(wanted.photos)} photos, {self.swept} files of unfinished uploads swept"
        )
        if self.database is not None:
            more += f", database killed {self.databases_killed} times"
        name = "kill -9, " + ("SQLite" if self.database is None else "PostgreSQL")
        return Figures(name, rounds, len(wanted), len(found), wrong, 0.0, more)
