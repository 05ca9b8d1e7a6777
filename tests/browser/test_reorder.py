"""Operations put in order by dragging, by keys and by buttons; what is kept is what the page shows."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from tests.conftest import START
from webapp.builds.models import Build
from webapp.people.actions import add_person
from webapp.shops.actions import new_shop
from webapp.shops.models import Shop

pytestmark = pytest.mark.browser


@pytest.fixture
def build_id(site: Site) -> int:
    """A build with the operations A to D."""
    with site.app.app_context(), site.session() as db:
        units = {"currency": "USD", "length_unit": "in", "temperature_unit": "F"}
        shop = Shop(name="Two Bench Shop", time_zone="America/New_York", **units)
        new_shop(db, shop, add_person(db, "Ada", None, START), START)
        build = factories.build(db, shop)
        for key in "abcd":
            factories.operation(db, build, key)
        return build.id


@pytest.fixture(params=[True, False], ids=["with scripts", "without scripts"])
def scripted(request: pytest.FixtureRequest) -> bool:
    return bool(request.param)


@pytest.fixture
def page(browser: Browser, site: Site, build_id: int, scripted: bool) -> Iterator[Page]:
    found, wrong = open_page(browser, site, viewport=PHONE, java_script_enabled=scripted)
    found.goto(f"/builds/{build_id}/order")
    yield found
    found.context.close()
    assert not wrong, wrong


def shown(page: Page) -> str:
    return "".join(page.locator(".order .what").all_inner_texts())


def kept(site: Site) -> str:
    with site.session() as db:
        return "".join(one.name for one in db.query(Build).one().operations)


def test_a_button_moves_a_row(page: Page, site: Site, scripted: bool) -> None:
    page.get_by_role("button", name="Up: C").click()
    expect(page.locator(".order .what").nth(1)).to_have_text("C")
    page.get_by_role("button", name="Down: A").click()
    expect(page.locator(".order .what").first).to_have_text("C")
    expect(page.locator(".order")).to_have_attribute("data-reorder", "kept" if scripted else "")
    page.reload()
    assert (shown(page), kept(site)) == ("CABD", "CABD")


@pytest.mark.parametrize("scripted", [True], indirect=True)
def test_keys_move_the_row_that_has_the_focus(page: Page, site: Site) -> None:
    row = page.locator("[data-reorder-row]").first
    row.focus()
    for _ in range(2):
        with page.expect_response("**/place"):
            page.keyboard.press("Alt+ArrowDown")
    assert shown(page) == "BCAD"
    expect(page.locator("[data-reorder-said]")).to_have_text("A: 3 of 4")
    assert page.evaluate("() => document.activeElement.dataset.reorderName") == "A"
    page.reload()
    assert (shown(page), kept(site)) == ("BCAD", "BCAD")


@pytest.mark.parametrize("scripted", [True], indirect=True)
def test_a_row_is_dragged_by_its_grip(page: Page, site: Site) -> None:
    grip, last = page.locator("[data-reorder-grip]").first, page.locator("[data-reorder-row]").last
    grip.hover()
    page.mouse.down()
    box = last.bounding_box()
    assert box
    page.mouse.move(box["x"] + 20, box["y"] + box["height"] - 4, steps=12)
    with page.expect_response("**/place"):
        page.mouse.up()
    assert shown(page) == "BCDA"
    page.reload()
    assert (shown(page), kept(site)) == ("BCDA", "BCDA")
