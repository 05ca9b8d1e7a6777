"""The button that goes back, with the store of whole pages that browsers keep for it, and with and without scripts."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests import factories
from tests.browser.conftest import ARGUMENTS, PHONE, Site, open_page
from tests.conftest import CHROMIUM

WORDS = "plane iron walnut"


@pytest.fixture(scope="module")
def browser(browser: Browser) -> Iterator[Browser]:
    """One that keeps pages for going back, as browsers of people do and those of tests do not."""
    found = browser.browser_type.launch(
        executable_path=str(CHROMIUM), args=ARGUMENTS, ignore_default_args=["--disable-back-forward-cache"]
    )
    yield found
    found.close()


@pytest.fixture(params=[True, False], ids=["with scripts", "without scripts"])
def page(request: pytest.FixtureRequest, browser: Browser, site: Site) -> Iterator[Page]:
    with site.session() as db:
        shop = factories.shop(db)
        factories.maker(db, shop, "Ada")
        factories.give_password(db, "Ada", WORDS)
        factories.build(db, shop, "Walnut desk", client="Mrs Quill")
    found, wrong = open_page(browser, site, viewport=PHONE, java_script_enabled=request.param)
    found.goto("/sign-in?next=/builds")
    found.get_by_label("Name").fill("Ada")
    found.get_by_label("Password").fill(WORDS)
    found.get_by_role("button", name="Sign in").click()
    yield found
    found.context.close()
    assert wrong == []


def test_back_after_saving_shows_what_was_saved(page: Page) -> None:
    """SA14: list, edit, save, and back through all of them."""
    page.get_by_role("link", name="Walnut desk").first.click()
    page.goto("/builds/1/edit")
    page.get_by_label("What is it?").fill("Cherry desk")
    page.get_by_role("button", name="Save").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Cherry desk")
    page.go_back()
    expect(page.get_by_label("What is it?")).to_have_value("Cherry desk")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Cherry desk")
    page.go_back()
    expect(page.get_by_role("link", name="Cherry desk").first).to_be_visible()
    expect(page.get_by_text("Walnut desk")).to_have_count(0)


def test_back_after_signing_out_shows_no_private_page(page: Page, site: Site) -> None:
    """SA14: neither the last page nor one before it, nor what was typed there and not sent."""
    page.goto("/builds/1")
    page.goto("/builds/1/note")
    page.get_by_label("Note").fill("Mrs Quill owes for the hinges")
    page.goto("/sign-ins")
    page.get_by_role("button", name="Sign out", exact=True).click()
    expect(page.get_by_text("Signed out.")).to_be_visible()
    for _ in range(3):
        page.go_back()
        expect(page.get_by_label("Password")).to_be_visible()
        assert "/sign-in" in page.url
        assert "Mrs Quill" not in page.content()
        assert "Walnut desk" not in page.content()
    assert page.evaluate("() => Object.keys(sessionStorage)") == []
