"""Every page there is, found by following links through the invented shop: nothing serious for axe in either theme, no
sideways scrolling on a phone or a desk, no text smaller than 14 px, no complaint in the console.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page
from sqlalchemy import select
from werkzeug.exceptions import HTTPException
from werkzeug.routing import RequestRedirect

from tests.access_table import ACCESS
from tests.browser.conftest import DESK, PHONE, Site, open_page
from tests.conftest import Clock
from webapp.builds.models import PAST, Build, Operation, Part
from webapp.products.models import Product

# pages that no link of a signed-in owner leads to: they are for somebody else, or the answer to a form
NOT_LINKED = {"people.welcome", "people.sign_in", "static", "photos.picture", "photos.shift", "lookback.compare"}
NOT_LINKED.add("journal.shop_time.stopped")  # linked only while a clock has run past closing
DOWNLOADS = {"exports.bare", "exports.whole", "exports.costs", "exports.hours"}  # files, which a browser does not show
# verbs that have a page of their own only for those whose browser runs no script, or who come by an old link
BY_HAND = {
    "journal.clock.done": "/operations/{operation}/done",
    "journal.clock.pause": "/operations/{operation}/pause",
    "journal.doubt.show": "/operations/{operation}/doubt",
    "journal.glue.confirm_split": "/operations/{glue}/split",
    "journal.glue.open_time": "/operations/{glue}/open-time",
    "journal.size.measured": "/sizes/1/measured",
    "journal.wait.stage": "/operations/{operation}/stage?stage=out+of+clamps&answer=not+yet",
    "lookback.compare": "/lookback/compare",
    "moisture.edit": "/moisture/stock/1",
    "moisture.meters.edit": "/moisture/meters/1",
    "moisture.watches.index": "/builds/{past}/watches",
    "moisture.watches.show": "/watches/1",
    "people.welcome": "/welcome",
    "products.tins.edit": "/tins/1/edit",
    "shops.air.edit": "/shop/air",
    "sizes.edit": "/sizes/1/edit",
}
SMALLEST = 14

# a theme is other colours and nothing else (tokens.css): in the second one only what axe says of colours is asked again
LIGHT = {"resultTypes": ["violations"], "preload": False}
DARK = {**LIGHT, "runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
THEMES: dict[str, dict[str, Any]] = {"light": LIGHT, "dark": DARK}

# not innerWidth, which on a phone grows with what is too wide
TOO_WIDE = "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
TOO_SMALL = """(least) => [...document.querySelectorAll("main *, nav *, footer *")].filter((element) => {
  const own = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
  if (!own || !element.checkVisibility()) return false;
  const scale = element.ownerSVGElement ? element.ownerSVGElement.getScreenCTM().a : 1;
  return parseFloat(getComputedStyle(element).fontSize) * scale < least - 0.5;
}).map((element) => element.textContent.trim().slice(0, 40))"""


@pytest.fixture(scope="module")
def world(browser: Browser, sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    """The invented shop, put up by its own button with the newest of its pictures."""
    site = Site(tmp_path_factory.mktemp("world"), Clock(), sqlite_template)
    site.app.config["INVENTED_PICTURES"] = 10
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


def ids(site: Site) -> dict[str, int]:
    glued = select(Operation.id).join(Operation.product).where(Product.use == "glue").order_by(Operation.id)
    with site.session() as db:
        past = db.scalars(select(Build.id).where(Build.status.in_(PAST)).order_by(Build.id)).first()
        return {"operation": 1, "glue": db.scalars(glued).first() or 0, "past": past or 0}


def walk(page: Page, site: Site) -> Iterator[str]:
    """Yield the endpoint of each page that links lead to, once, with the page open on it."""
    seen: set[str] = set()
    waiting = ["/", *(path.format(**ids(site)) for path in BY_HAND.values())]
    while waiting:
        path = waiting.pop(0)
        endpoint = endpoint_of(site, path)
        if endpoint is None or endpoint in seen or endpoint in {"static", "photos.picture", *DOWNLOADS}:
            continue
        seen.add(endpoint)
        page.goto(path)
        waiting += page.locator("a[href^='/']").evaluate_all("links => links.map((a) => a.getAttribute('href'))")
        yield endpoint


def serious(page: Page, options: dict[str, Any]) -> list[str]:
    found: dict[str, Any] = page.evaluate("(options) => axe.run(document, options)", options)
    return [
        f"{one['id']}: {node['target']}"
        for one in found["violations"]
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"][:3]
    ]


def test_every_page_can_be_used_by_everybody(browser: Browser, world: Site, axe: str) -> None:
    page, wrong = open_page(browser, world, viewport=PHONE, has_touch=True, is_mobile=True)
    page.add_init_script(axe)
    found, seen = [], set()
    for endpoint in walk(page, world):
        seen.add(endpoint)
        for scheme, options in THEMES.items():
            page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            found += [f"{endpoint}, {scheme}: {one}" for one in serious(page, options)]
        found += [f"{endpoint}, small text: {one}" for one in page.evaluate(TOO_SMALL, SMALLEST)]
        for name, size in (("a desk", DESK), ("a phone", PHONE)):  # on a phone once more, where the next one is opened
            page.set_viewport_size(size)  # type: ignore[arg-type]
            if page.evaluate(TOO_WIDE):
                found.append(f"{endpoint}: scrolls sideways on {name}")
    page.context.close()
    assert found == []
    assert wrong == []
    # a page that nothing links to would not have been looked at
    pages = {endpoint for endpoint, access in ACCESS.items() if access != "public" and has_page(world, endpoint)}
    assert pages - seen - NOT_LINKED - DOWNLOADS == set()


def test_links_in_rows_and_headings_are_touched_with_a_thumb(browser: Browser, world: Site) -> None:
    """48 px for a link that stands by itself, 8 px to the next one."""
    with world.session() as db:
        part = db.scalars(select(Part).order_by(Part.id)).first()
        assert part is not None
        paths = ["/", f"/builds/{part.build_id}/parts", f"/builds/{part.build_id}/sizes"]
        movement = f"/parts/{part.id}/movement"
    page, _ = open_page(browser, world, viewport=PHONE, has_touch=True, is_mobile=True)
    for path in paths:
        page.goto(path)
        heights = page.locator(".wait .what a, .row .what a, h1 a").evaluate_all(
            "links => links.map((a) => a.getBoundingClientRect().height)"
        )
        assert heights, path
        assert min(heights) >= 48, path
    page.goto(movement)
    forms = page.locator("details:has(button:text('Reckon it'))")
    forms.first.locator("summary").click()
    button, below = (one.bounding_box() for one in (forms.first.get_by_role("button"), forms.nth(1).locator("summary")))
    assert button is not None
    assert below is not None
    assert below["y"] - button["y"] - button["height"] >= 8
    page.context.close()


def has_page(site: Site, endpoint: str) -> bool:
    return any("GET" in (rule.methods or ()) for rule in site.app.url_map.iter_rules(endpoint))
