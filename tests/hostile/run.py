"""Walks the pages, sends the attempts, and notes what was wrong with an answer."""

import re
import sys
import time
import unicodedata
from collections import Counter, deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from random import Random
from typing import Protocol
from urllib.parse import urlsplit

from tests.hostile.attempts import Attempt, Way, ways_of, well_meant
from tests.hostile.served import Form, Page, read, shape_of
from webapp.web.text import tidy

REFUSALS = (400, 401, 403, 404, 405, 409, 413, 414, 415, 416, 422, 429, 431)
ANSWERS = frozenset(
    {200, 204, 206, 301, 303, 304, 308, 400, 401, 403, 404, 405, 409, 413, 414, 415, 416, 422, 429, 431}
)
REFUSED = range(400, 500)
SLOW = 3.0  # seconds of work for one request
ALIKE = 2  # so many pages of one shape are looked at
# what leads out of the shop, or takes away what the rest is tried on: these come last
LAST = re.compile(
    "^/start$|^/(sign-out|invented|password|restore)|/(leaving|enter|delete|removal|others|retire|account)(/|$)"
)
# these write on purpose where they refuse: a wrong guess is counted, the photos that are photos are kept
WRITES_ANYWAY = ("/sign-in", "/password", "/photos/new")
OWN = frozenset({"csrf_token", "once", "version", "id", "next", "resend_to", "carried"})


@dataclass(frozen=True)
class Answer:
    status: int
    headers: tuple[tuple[str, str], ...] = ()
    text: str = ""
    broke: str = ""  # the last lines of what broke, where that can be seen

    def header(self, name: str) -> str:
        return next((value for found, value in self.headers if found.lower() == name), "")

    @property
    def is_page(self) -> bool:
        return self.header("content-type").startswith("text/html")


class Client(Protocol):
    """One browser: keeps its cookies, follows nothing."""

    def send(self, attempt: Attempt) -> Answer: ...


@dataclass
class Run:
    """What was sent, what came back, and what was wrong with it."""

    client: Client
    state: Callable[[], int] | None = None  # changes whenever something was stored
    statuses: Counter[int] = field(default_factory=Counter)
    findings: list[str] = field(default_factory=list)
    accepted: Counter[str] = field(default_factory=Counter)
    meant_well: dict[str, int] = field(default_factory=dict)
    after_each: Callable[[], None] = lambda: None

    def send(self, attempt: Attempt) -> Answer:
        """Send it, and note whatever the answer should not have been."""
        before = self.state() if self.state else 0
        begun = time.thread_time()  # what it draws afterwards, beside the request, does not count
        answer = self.client.send(attempt)
        if (took := time.thread_time() - begun) > SLOW:
            self.findings.append(f"{attempt}: took {took:.1f} s")
        self.statuses[answer.status] += 1
        self.findings += [f"{attempt}: {says}" for says in faults(attempt, answer)]
        if self.state and answer.status in REFUSED and not may_write(attempt) and self.state() != before:
            self.findings.append(f"{attempt}: {answer.status}, and something was stored")
        self.after_each()
        return answer

    def page(self, address: str) -> Page | None:
        answer = self.send(Attempt("page", "GET", address))
        return read(address, answer.text) if answer.status == 200 and answer.is_page else None

    def walk(self, starts: Iterable[str], alike: int = ALIKE) -> list[Page]:
        """Return the pages that links lead to, a few of each shape."""
        waiting, seen, shapes, found = deque(starts), set[str](), Counter[str](), list[Page]()
        while waiting:
            address = waiting.popleft()
            if address in seen or shapes[shape_of(address)] >= alike or address.startswith("/static"):
                continue
            seen.add(address)
            shapes[shape_of(address)] += 1
            page = self.page(address)
            if page is not None:
                found.append(page)
                waiting.extend(page.links)
        return found

    def try_forms(self, forms: Iterable[Form], seed: str, each: int, more: int, most: int = 10_000) -> None:
        """Send each form well meant and then in wrong ways, at most so many of them."""
        for form in forms:
            random = Random(f"{seed} {form.shape}")
            ways = ways_of(form, random, each, more)
            self._try_form(form, random, random.sample(ways, min(most, len(ways))))

    def _try_form(self, form: Form, random: Random, ways: Iterable[Way]) -> None:
        fresh = self._again(form) or form
        self.meant_well[str(form)] = self.send(well_meant(fresh, random)).status
        for way in ways:
            attempt = way(fresh)
            status = self.send(attempt).status
            if status < 400 and form.method == "post":
                self.accepted[attempt.name.partition(" = ")[2].partition(":")[0] or attempt.name] += 1
                fresh = self._again(form) or fresh

    def _again(self, form: Form) -> Form | None:
        """Return the form as it is served now; none where the page has it no more: then an old page goes on."""
        page = self.page(form.page)
        found = [one for one in page.forms if one.shape == form.shape] if page else []
        return next((one for one in found if one.action == form.action), None)

    def report(self, out: Callable[[str], object] = sys.stdout.write) -> None:
        total = sum(self.statuses.values())
        by_status = ", ".join(f"{status}: {count}" for status, count in sorted(self.statuses.items()))
        out(f"{total} requests ({by_status})\n")
        for finding in self.findings[:60]:
            out(f"  {finding[:600]}\n")


def forms_of(pages: Iterable[Page]) -> list[Form]:
    """Return one form of each shape, those that take something away at the end."""
    found: dict[object, Form] = {}
    for page in pages:
        for form in page.forms:
            found.setdefault(form.shape, form)
    return sorted(found.values(), key=lambda form: (is_last(form), form.shape))


def is_last(form: Form) -> bool:
    return LAST.search(form.path) is not None


def may_write(attempt: Attempt) -> bool:
    """Whether something may be stored though it is refused: a sign-in of a new browser, say."""
    return bool(attempt.headers) or attempt.address.partition("?")[0].endswith(WRITES_ANYWAY)


def faults(attempt: Attempt, answer: Answer) -> list[str]:
    """Return what is wrong with an answer."""
    found = [f"{answer.status} {answer.broke}"] if answer.status not in ANSWERS else []
    found += [f"header {name} has a line end" for name, value in answer.headers if "\n" in value or "\r" in value]
    where = urlsplit(answer.header("location"))
    if where.netloc not in ("", "localhost") and not where.netloc.startswith("127.0.0.1"):
        found.append(f"leads to {answer.header('location')}")
    if not answer.is_page or not answer.text:
        return found
    page = read(attempt.address, answer.text)
    found += [f"{what} is in the page" for what in page.inline]
    if answer.status in (409, 422) and attempt.form is not None and attempt.method == "POST":
        if not page.says:
            found.append(f"{answer.status} without a message")
        found += [f"{answer.status}, and {name} is lost: {text[:60]!r}" for name, text in lost(attempt, page)]
    return found


def lost(attempt: Attempt, page: Page) -> list[tuple[str, str]]:
    """Return the fields that were typed in and whose text is not in the page's forms any more."""
    there: dict[str, set[str]] = {}
    for form in page.forms:
        if attempt.form is not None and form.path == attempt.form.path:
            for control in form.controls:
                there.setdefault(control.name, set()).add(same(control.value))
    typed = attempt.form.controls if attempt.form is not None else ()
    names = {one.name for one in typed if one.is_typed} - OWN
    first = {name: text for name, text in reversed(attempt.typed) if name in names and same(text) and is_whole(text)}
    return [(name, text) for name, text in first.items() if same(text) not in there.get(name, set())]


def is_whole(text: str) -> bool:
    """Whether there are no half characters in it: nobody can type them, and they come back as hex."""
    return not any(unicodedata.category(c) == "Cs" for c in text)


def same(text: str) -> str:
    """Return a text without what browsers and the app may change in it: composition, line ends, what nobody sees."""
    plain = unicodedata.normalize("NFC", "".join(str(tidy(text)).split()))
    return "".join(c for c in plain if unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Cn"})
