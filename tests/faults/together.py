"""Many makers at once, each adding lines and changing one piece they share: nothing of it is lost."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event

from sqlalchemy.orm import Session

from tests.faults.browser import Browser
from tests.faults.checks import look
from tests.faults.figures import Figures
from tests.faults.ledger import Ledger
from tests.faults.load import Maker, begin_build, begin_shop, picture
from webapp.builds.models import Operation
from webapp.db.engine import make_engine

OPERATION = {"name": "Sand", "kind": "sand", "minutes": "1", "count": "1", "makers": "1", "group": "", "note": ""}
MOST_TRIES = 500


@dataclass
class Together:
    """So many makers against the server at an address; a field of the operation they share counts their changes."""

    base: str
    makers: int
    rounds: int
    photos_each: int = 2
    ledger: Ledger = field(default_factory=Ledger)
    changes: list[str] = field(default_factory=list)
    clashes: int = 0
    begun: Event = field(default_factory=Event)
    operation: int = 0

    def run(self) -> None:
        """Begin a shop, and let all work until each is through."""
        browser = begin_shop(self.base)
        build = begin_build(browser, "The piece they share")
        self.operation = self._begin_operation(browser, build)
        with ThreadPoolExecutor(self.makers) as threads:
            list(threads.map(lambda number: self._work(number, build), range(1, self.makers + 1)))

    def _begin_operation(self, browser: Browser, build: int) -> int:
        browser.get(f"/builds/{build}/operations/new")
        answer = browser.post(f"/builds/{build}/operations", OPERATION)
        assert answer.status == 303, answer.text
        return int(answer.location.rsplit("-", 1)[1])

    def _work(self, number: int, build: int) -> None:
        browser = Browser(self.base)
        browser.get("/")  # on the server's own computer everybody is its owner
        browser.get("/builds/new")
        maker = Maker(browser, build, self.ledger)
        every = max(1, self.rounds // max(1, self.photos_each))
        for one in range(1, self.rounds + 1):
            maker.note(f"maker {number}, line {one}")
            self._change(maker, one)
            if one % every == 0 and self.photos_each:
                maker.photo(picture(f"{number} {one}"))
            if one * 4 >= self.rounds:
                self.begun.set()

    def _change(self, maker: Maker, one: int) -> None:
        """Count one up in what everybody changes; who is told that it was changed meanwhile looks and tries again."""
        path = f"/operations/{self.operation}/edit"
        for _ in range(MOST_TRIES):
            form = maker.browser.get(path)
            count = int(form.value("count"))
            fields = {**OPERATION, "count": str(count + 1), "version": form.value("version")}
            answer = maker.browser.post(path, fields)
            if answer.status == 303:
                self.changes.append(f"{count} to {count + 1}")
                return
            if answer.status != 409:
                self.ledger.wonder(f"{answer.status}: {answer.text[:200]}")
            self.clashes += 1
        self.ledger.wonder(f"line {one}: {MOST_TRIES} tries were not enough")

    def figures(self, name: str, url: str, photos: Path) -> Figures:
        """Count what is there, once the server stands still."""
        wanted = self.ledger.so_far()
        found = look(url, photos, wanted)
        counted = count_of(url, self.operation) - 1
        wrong = [*found.wrong, *self.ledger.strange]
        wanted_lines = self.makers * self.rounds
        if len(wanted.notes) != wanted_lines:
            wrong.append(f"{len(wanted.notes)} of {wanted_lines} lines were acknowledged")
        more = f"{len(self.changes)} changes of one row, {self.clashes} told that it was changed meanwhile"
        return Figures(
            f"{self.makers} makers at once, {name}",
            self.rounds,
            len(wanted) + len(self.changes),
            len(found) + counted,
            tuple(wrong),
            0.0,
            more,
        )


def count_of(url: str, operation: int) -> int:
    engine = make_engine(url)
    with Session(engine, execution_options={"write": False}) as db:
        found = db.get_one(Operation, operation).count
    engine.dispose()
    return found
