"""A cure that runs on through the night in which clocks are changed."""

from datetime import UTC, datetime

import pytest
from playwright.sync_api import Browser, expect

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from webapp.people.actions import add_person
from webapp.shops.actions import new_shop
from webapp.shops.models import Shop

pytestmark = pytest.mark.browser


@pytest.mark.parametrize(
    ("zone", "begin", "hours", "end"),
    [
        ("America/New_York", datetime(2026, 3, 7, 19, tzinfo=UTC), 24, "15:00"),
        ("Europe/London", datetime(2026, 3, 28, 20, 30, tzinfo=UTC), 12, "09:30"),
    ],
)
def test_real_hours_are_counted_and_the_wall_clock_is_shown(
    browser: Browser, site: Site, zone: str, begin: datetime, hours: int, end: str
) -> None:
    """TA30: 24 h from Sat 14:00 end on Sun 15:00, 12 h from Sat 20:30 on Sun 09:30; a phone set to Tokyo's time."""
    site.clock.moment = begin
    with site.app.app_context(), site.session() as db:
        shop = Shop(name="Shop", time_zone=zone, currency="USD", length_unit="in", temperature_unit="F")
        maker = new_shop(db, shop, add_person(db, "Ada", None, begin), begin)
        glue = factories.product(db, shop, "our glue", stages=[{"name": "full strength", "hours": hours}])
        build = factories.build(db, shop)
        operation = factories.operation(db, build, "glue-up", name="Glue up the top", product_id=glue.id)
        factories.entry(db, maker, "done", begin, on=operation)
    page, wrong = open_page(browser, site, viewport=PHONE, timezone_id="Asia/Tokyo")
    page.goto("/")
    ends = page.locator(".ends")
    expect(ends).to_have_text(f"Sun {end} in {hours} h")
    site.forward(page, hours=hours - 1)
    expect(ends.locator("small time")).to_have_text("in 1 h")  # by the script, over the change
    page.reload()
    expect(ends).to_have_text(f"{end} in 1 h")
    site.forward(page, hours=1)
    page.reload()
    expect(page.get_by_text(f"{hours} h, up at {end}")).to_be_visible()
    page.context.close()
    assert not wrong, wrong
