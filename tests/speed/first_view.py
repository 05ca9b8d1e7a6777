"""What a phone waits for: bytes and seconds of the first view of pages, cold and warm, over a slow line.

python tests/speed/first_view.py [slow 3G: 400 ms, 400 kbit/s]. A phone of 390 px, the invented shop, the real server.
"""

import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from playwright.sync_api import BrowserContext, CDPSession, sync_playwright

from tests.browser.conftest import ARGUMENTS, PHONE
from tests.conftest import CHROMIUM
from tests.faults.servers import Benchtide

SLOW = {
    "offline": False,
    "latency": 400,
    "downloadThroughput": 50_000,
    "uploadThroughput": 50_000,
}  # ms, bytes a second
PAGES = ("/", "/builds", "/builds/1", "/days", "/photos", "/photos/1")
TIMES = """() => {
  const load = performance.getEntriesByType("navigation")[0];
  const paint = performance.getEntriesByName("first-contentful-paint")[0];
  return [paint ? paint.startTime : 0, load.domContentLoadedEventEnd, load.loadEventEnd];
}"""


@dataclass
class View:
    requests: int
    kilobytes: float
    page: float
    painted: float
    usable: float
    loaded: float


class Line:
    """A browser's line, with what came over it."""

    def __init__(self, session: CDPSession) -> None:
        self.session, self.received, self.kinds = session, 0, dict[str, str]()
        self.requests, self.page = 0, 0
        session.on("Network.requestWillBeSent", lambda event: self.kinds.update({event["requestId"]: event["type"]}))
        session.on("Network.loadingFinished", self._finished)
        session.send("Network.enable")
        session.send("Network.emulateNetworkConditions", SLOW)

    def _finished(self, event: dict[str, Any]) -> None:
        size = int(event["encodedDataLength"])
        self.received += size
        self.requests += size > 0
        if self.kinds.get(event["requestId"]) == "Document":
            self.page += size


def view(context: BrowserContext, url: str) -> View:
    page = context.new_page()
    line = Line(context.new_cdp_session(page))
    page.goto(url, wait_until="load", timeout=120_000)
    page.wait_for_timeout(800)
    painted, usable, loaded = (value / 1000 for value in page.evaluate(TIMES))
    page.close()
    return View(line.requests, line.received / 1000, line.page / 1000, painted, usable, loaded)


def main() -> None:
    folder = Path(tempfile.mkdtemp())
    with Benchtide(folder / "instance") as server, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        options: dict[str, Any] = {
            "viewport": PHONE,
            "is_mobile": True,
            "device_scale_factor": 3,
            "base_url": server.base,
        }
        first = browser.new_context(**options)
        page = first.new_page()
        page.goto("/welcome")
        page.get_by_role("button", name="Look round").first.click(timeout=60_000)
        page.wait_for_url(server.base + "/", timeout=60_000)
        state = first.storage_state()
        print("| page | view | requests | kB | of them the page | painted s | usable s | loaded s |")
        print("|---|---|---|---|---|---|---|---|")
        for path in PAGES:
            context = browser.new_context(**options, storage_state=state)
            for name in ("cold", "warm"):
                one = view(context, server.base + path)
                figures = f"{one.requests} | {one.kilobytes:.1f} | {one.page:.1f}"
                print(f"| {path} | {name} | {figures} | {one.painted:.2f} | {one.usable:.2f} | {one.loaded:.2f} |")
            context.close()
        browser.close()


if __name__ == "__main__":
    main()
