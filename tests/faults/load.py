"""A maker who writes into the journal and sends photos, and sends again whatever was not answered."""

import hashlib
import json
import threading
import time
import uuid
from collections.abc import Callable
from io import BytesIO
from random import Random

from PIL import Image

from tests.faults.browser import Answer, Browser, LostError
from tests.faults.ledger import Ledger

SHOP = {
    "maker": "Ada",
    "name": "Shavings",
    "time_zone": "America/New_York",
    "currency": "USD",
    "length_unit": "in",
    "temperature_unit": "F",
}
NOT_NOW = {409, 503, 507}
PAUSE = 0.05  # seconds


class GivenUpError(RuntimeError):
    """A maker who was told to stop sending."""


def begin_shop(base: str) -> Browser:
    """Begin a shop as the very first visitor, on the server's own computer."""
    browser = Browser(base)
    browser.get("/start")
    answer = browser.post("/start", SHOP)
    assert answer.status == 303, answer.text
    browser.get("/builds/new")
    return browser


def begin_build(browser: Browser, name: str) -> int:
    fields = {"name": name, "status": "in the making", "weight": "1", "once": uuid.uuid4().hex}
    answer = browser.post("/builds", fields)
    assert answer.status == 303, answer.text
    return int(answer.location.rsplit("/", 1)[1])


def picture(seed: str) -> bytes:
    """Return a small photo like no other."""
    chance = Random(seed)
    image = Image.frombytes("RGB", (96, 72), chance.randbytes(96 * 72 * 3))
    out = BytesIO()
    image.save(out, "JPEG", quality=70)
    return out.getvalue()


class Maker:
    """One who sends until it is acknowledged; `stop` ends the trying."""

    def __init__(self, browser: Browser, build: int, ledger: Ledger) -> None:
        self.browser, self.build, self.ledger = browser, build, ledger
        self.stop = threading.Event()

    def note(self, words: str) -> None:
        """Write a line under an id of its own, as a page does: sent again it is the same line."""
        key = str(uuid.uuid4())
        path = f"/builds/{self.build}/note"
        self.insist(lambda: self.browser.post(path, {"id": key, "note": words}), 303)
        self.ledger.note(key, words)

    def photo(self, content: bytes) -> None:
        path = f"/builds/{self.build}/photos/new"
        answer = self.insist(lambda: self.browser.send(path, {}, [("photos", "photo.jpg", content)]), 200)
        if json.loads(answer.text)["stored"] == 1:
            self.ledger.photo(hashlib.sha256(content).hexdigest())
        else:
            self.ledger.wonder(answer.text[:200])

    def insist(self, send: Callable[[], Answer], wanted: int) -> Answer:
        """Send until the answer is the one that acknowledges."""
        while not self.stop.is_set():
            try:
                answer = send()
            except LostError:
                time.sleep(PAUSE)
                continue
            if answer.status == wanted:
                return answer
            if answer.status not in NOT_NOW:
                self.ledger.wonder(f"{answer.status}: {answer.text[:200]}")
            self.ledger.refuse()
            time.sleep(PAUSE)
        raise GivenUpError

    def work(self, notes: int, photos: int, name: str) -> None:
        """Write so many lines, and so many photos spread among them."""
        every = max(1, notes // photos) if photos else notes + 1
        sent = 0
        for number in range(1, notes + 1):
            self.note(f"{name}, line {number}")
            if number % every == 0 and sent < photos:
                sent += 1
                self.photo(picture(f"{name} {sent}"))
