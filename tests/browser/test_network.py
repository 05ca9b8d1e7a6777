"""By a name of the shop's network, over plain http and behind a proxy that speaks https."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests import factories
from tests.browser.conftest import ARGUMENTS, PHONE, Site, open_page
from tests.browser.proxy import tls_proxy
from tests.conftest import CHROMIUM, Clock

NAME = "shop.lan"
WORDS = "plane iron walnut"


@pytest.fixture(scope="module")
def browser(browser: Browser) -> Iterator[Browser]:
    """One that finds the name at this computer, as the shop's router would tell it."""
    arguments = [*ARGUMENTS, f"--host-resolver-rules=MAP {NAME} 127.0.0.1"]
    found = browser.browser_type.launch(executable_path=str(CHROMIUM), args=arguments)
    yield found
    found.close()


def furnished(folder: Path, clock: Clock, **settings: object) -> Site:
    """A server that others can reach, and Ada with her password."""
    site = Site(folder, clock, host="0.0.0.0", trusted_hosts=(NAME,), **settings)
    with site.session() as db:
        factories.maker(db, factories.shop(db), "Ada")
        factories.give_password(db, "Ada", WORDS)
    site.thread.start()
    return site


def sign_in(page: Page) -> None:
    page.goto("/stock/new")
    page.get_by_label("Name").fill("Ada")
    page.get_by_label("Password").fill(WORDS)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_label("What", exact=True)).to_be_visible()


def save_a_line(page: Page) -> None:
    page.get_by_label("What", exact=True).fill("Hinges")
    page.get_by_label("Quantity as billed").fill("1")
    page.get_by_label("Unit", exact=True).fill("pcs")
    page.get_by_label("Price for one").fill("42.50")
    page.get_by_role("button", name="Save the line").click()
    expect(page.get_by_text("Hinges").first).to_be_visible()


def places(page: Page) -> list[str]:
    """Every address that a page leads to or loads."""
    found: list[str] = page.evaluate(
        "() => [...document.querySelectorAll('[href], [src], form')].map((one) => one.href || one.src || one.action)"
    )
    return [place for place in found if isinstance(place, str)]


def test_plain_http_by_a_name_of_the_network(browser: Browser, tmp_path: Path, clock: Clock) -> None:
    """SA11: a phone signs in, stays in, and saves; what needs https is not asked for, so nothing fails in silence."""
    site = furnished(tmp_path / "instance", clock)
    site.url = f"http://{NAME}:{site.server.server_port}"
    page, wrong = open_page(browser, site, viewport=PHONE, has_touch=True, is_mobile=True)
    sent: list[dict[str, str]] = []
    page.on("request", lambda request: sent.append(request.all_headers()) if request.method == "POST" else None)
    sign_in(page)
    assert page.evaluate("() => isSecureContext") is False
    save_a_line(page)
    page.goto("/")
    expect(page.get_by_role("link", name="Ada")).to_be_visible()
    cookies = {one["name"]: one for one in page.context.cookies()}
    assert (cookies["benchtide"]["secure"], cookies["benchtide"]["httpOnly"]) == (False, True)
    # what the check of other sites rests on: here browsers send an Origin and no Sec-Fetch-Site
    assert {one["origin"] for one in sent} == {site.url}
    assert not [one for one in sent if "sec-fetch-site" in one]
    page.context.close()
    site.close()
    assert wrong == []


def test_https_by_a_proxy_in_front(browser: Browser, tmp_path: Path, clock: Clock) -> None:
    """SA11: the cookie is Secure, and every link and every redirect is https, those with a whole address too."""
    site = furnished(tmp_path / "instance", clock, proxies=1)
    with tls_proxy(tmp_path, NAME, site.server.server_port) as port:
        site.url = f"https://{NAME}:{port}"
        page, wrong = open_page(browser, site, viewport=PHONE, ignore_https_errors=True)
        came_from: list[str] = []
        page.on("response", lambda response: came_from.append(response.url))
        sign_in(page)
        assert page.evaluate("() => isSecureContext") is True
        save_a_line(page)
        led_to = places(page)
        page.goto("/stock//new")  # led on with a whole address
        assert page.url == f"{site.url}/stock/new"
        assert {place for place in [*led_to, *came_from] if not place.startswith(f"{site.url}/")} == set()
        cookies = {one["name"]: one for one in page.context.cookies()}
        assert (cookies["benchtide"]["secure"], cookies["benchtide"]["sameSite"]) == (True, "Lax")
        page.context.close()
    site.close()
    assert wrong == []
