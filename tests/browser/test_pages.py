"""Every page there is, found by following links through the invented shop: nothing serious for axe in either theme, no
sideways scrolling on a phone or a desk, no text smaller than 14 px, no complaint in the console.
"""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from werkzeug.exceptions import HTTPException
from werkzeug.routing import RequestRedirect

from tests.access_table import ACCESS
from tests.browser.conftest import DESK, PHONE, Site, open_page
from tests.conftest import Clock

# pages that no link of a signed-in owner leads to: they are for somebody else, or the answer to a form
NOT_LINKED = {"people.welcome", "people.sign_in", "static", "photos.picture", "photos.shift", "lookback.compare"}
NOT_LINKED.add("journal.shop_time.stopped")  # linked only while a clock has run past closing
DOWNLOADS = {"exports.bare", "exports.whole", "exports.costs", "exports.hours"}  # files, which a browser does not show
# verbs that have a page of their own only for those whose browser runs no script, or who come by an old link
BY_HAND = {
    "journal.clock.done": "/operations/{operation}/done",
    "journal.clock.pause": "/operations/{operation}/pause",
    "journal.wait.stage": "/operations/{operation}/stage?stage=out+of+clamps&answer=not+yet",
    "lookback.compare": "/lookback/compare",
    "people.welcome": "/welcome",
}
SMALLEST = 14

TOO_SMALL = """(least) => [...document.querySelectorAll("main *, nav *, footer *")].filter((element) => {
  const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
  if (!own || !element.checkVisibility()) return false;
  const scale = element.ownerSVGElement ? element.ownerSVGElement.getScreenCTM().a : 1;
  return parseFloat(getComputedStyle(element).fontSize) * scale < least - 0.5;
}).map((element) => element.textContent.trim().slice(0, 40))"""


@pytest.fixture(scope="module")
def world(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The invented shop, put up by its own button."""
    site = Site(tmp_path_factory.mktemp("world"), Clock())
    site.thread.start()
    page, wrong = open_page(browser, site)
    page.goto("/")
    page.get_by_role("button", name="Look round an invented shop").click(timeout=90_000)
    page.get_by_role("heading", name="Waiting").wait_for(timeout=90_000)
    page.context.close()
    assert not wrong
    yield site
    site.close()


def endpoint_of(site: Site, path: str) -> str | None:
    adapter = site.app.url_map.bind("localhost")
    try:
        return str(adapter.match(path.split("?")[0].split("#")[0], method="GET")[0])
    except (HTTPException, RequestRedirect):
        return None


def walk(page: Page, site: Site) -> Iterator[str]:
    """Yield the endpoint of each page that links lead to, once, with the page open on it."""
    seen: set[str] = set()
    waiting = ["/", *(path.format(operation=1) for path in BY_HAND.values())]
    while waiting:
        path = waiting.pop(0)
        endpoint = endpoint_of(site, path)
        if endpoint is None or endpoint in seen or endpoint in {"static", "photos.picture", *DOWNLOADS}:
            continue
        seen.add(endpoint)
        page.goto(path)
        waiting += page.locator("a[href^='/']").evaluate_all("links => links.map((a) => a.getAttribute('href'))")
        yield endpoint


def serious(page: Page) -> list[str]:
    options = {"resultTypes": ["violations"]}
    found: dict[str, Any] = page.evaluate("(options) => axe.run(document, options)", options)
    return [
        f"{one['id']}: {node['target']}"
        for one in found["violations"]
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"][:3]
    ]


def test_every_page_can_be_used_by_everybody(browser: Browser, world: Site, axe: str) -> None:
    page, wrong = open_page(browser, world, viewport=PHONE, has_touch=True, is_mobile=True)
    found, seen = [], set()
    for endpoint in walk(page, world):
        seen.add(endpoint)
        page.evaluate(axe)
        for scheme in ("light", "dark"):
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            found += [f"{endpoint}, {scheme}: {one}" for one in serious(page)]
        found += [f"{endpoint}, small text: {one}" for one in page.evaluate(TOO_SMALL, SMALLEST)]
        if page.evaluate("() => document.documentElement.scrollWidth > innerWidth"):
            found.append(f"{endpoint}: scrolls sideways on a phone")
    page.context.close()
    assert found == []
    assert wrong == []
    # a page that nothing links to would not have been looked at
    pages = {endpoint for endpoint, access in ACCESS.items() if access != "public" and has_page(world, endpoint)}
    assert pages - seen - NOT_LINKED - DOWNLOADS == set()


def has_page(site: Site, endpoint: str) -> bool:
    return any("GET" in (rule.methods or ()) for rule in site.app.url_map.iter_rules(endpoint))


def test_no_page_scrolls_sideways_on_a_desk(browser: Browser, world: Site) -> None:
    page, wrong = open_page(browser, world, viewport=DESK)
    found = [
        endpoint
        for endpoint in walk(page, world)
        if page.evaluate("() => document.documentElement.scrollWidth > innerWidth")
    ]
    page.context.close()
    assert (found, wrong) == ([], [])
