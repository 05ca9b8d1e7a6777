"""A wait ends while the page is open: it says so once, and the page goes on to ask."""

from datetime import timedelta

import pytest
from playwright.sync_api import Browser, expect

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from tests.conftest import START
from webapp.builds.models import Operation
from webapp.people.actions import add_person
from webapp.shops.actions import new_shop
from webapp.shops.models import Shop

pytestmark = pytest.mark.browser


def waiting(site: Site) -> Operation:
    """A shop of one, with a glue-up whose clamps come off in 30 min."""
    with site.app.app_context(), site.session() as db:
        shop = Shop(
            name="Two Bench Shop",
            time_zone="America/New_York",
            currency="USD",
            length_unit="in",
            temperature_unit="F",
        )
        maker = new_shop(db, shop, add_person(db, "Ada", None, START), START)
        db.flush()
        glue = factories.product(db, shop, "our glue", stages=[{"name": "out of clamps", "hours": 0.5}])
        operation = factories.operation(
            db, factories.build(db, shop, "Desk"), "glue-up", name="Glue up the top", product_id=glue.id
        )
        factories.entry(db, maker, "done", START - timedelta(seconds=1), on=operation)
        return operation


def test_it_rings_once_and_then_asks(browser: Browser, site: Site) -> None:
    """SA12: after a sleep the time left is right at once; TA31: one alarm at most, none after loading anew."""
    waiting(site)
    page, wrong = open_page(browser, site, viewport=PHONE)
    page.goto("/")
    page.get_by_role("button", name="Sound on").click()
    expect(page.get_by_text("Rings at each end while this page is open.")).to_be_visible()
    site.forward(page, minutes=10)
    expect(page.locator(".ends small time")).to_have_text("in 20 min")
    site.forward(page, minutes=30)
    expect(page).to_have_title("● Leave in clamps: Glue up the top")
    expect(page.get_by_text("Glue up the top: out of clamps?")).to_be_visible()
    rang = "Object.keys(sessionStorage).filter((key) => key.startsWith('rang:')).length"
    assert page.evaluate(rang) == 1
    page.reload()
    expect(page.get_by_text("10 min ago")).to_be_visible()
    assert page.title().startswith("Bench")
    assert page.evaluate(rang) == 1
    page.context.close()
    assert not wrong, wrong
