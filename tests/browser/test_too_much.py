"""More than the server takes, from a browser without scripts as well: the page says so, and the text is still there."""

import pytest
from playwright.sync_api import Browser, expect

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from webapp.people.models import Person

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_receipt_that_is_too_large_costs_no_typing(browser: Browser, site: Site, scripts: bool) -> None:
    """SA04: a readable page, not a reset connection; going back, what was typed stands in the form."""
    with site.session() as db:
        shop = factories.shop(db)
        factories.maker(db, shop, "Ada")
        db.query(Person).update({"password_hash": None})
        db.commit()
    site.app.config["MAX_CONTENT_LENGTH"] = 1_000_000
    page, _ = open_page(browser, site, viewport=PHONE, java_script_enabled=scripts)
    page.goto("/stock/new")
    page.get_by_label("What", exact=True).fill("Hinges")
    page.get_by_label("Note").fill("two short ones")
    page.get_by_label("Quantity as billed").fill("1")
    page.get_by_label("Unit", exact=True).fill("pcs")
    page.get_by_label("Price for one").fill("42.50")
    large = {"name": "bill.jpg", "mimeType": "image/jpeg", "buffer": bytes(2_000_000)}
    page.locator("input[type=file]").set_input_files([large])  # type: ignore[list-item]
    page.get_by_role("button", name="Save the line").click()
    expect(page.get_by_role("heading", name="Too much at once")).to_be_visible()
    page.go_back()
    expect(page.get_by_label("Note")).to_have_value("two short ones")
    expect(page.get_by_label("What", exact=True)).to_have_value("Hinges")
    page.context.close()
