"""Pages that stand open while somebody works: forms of the morning, clocks behind a locked screen, weak Wi-Fi."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from sqlalchemy import func, select, update

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from tests.conftest import Clock
from webapp.builds.models import Operation
from webapp.people.models import SignIn
from webapp.stock.models import Material

pytestmark = pytest.mark.browser
WORDS = "plane iron walnut"
MORNING = datetime(2026, 2, 3, 13, 0, tzinfo=UTC)  # Tue 08:00 in the shop


@pytest.fixture
def clock() -> Clock:
    found = Clock()
    found.moment = MORNING
    return found


@pytest.fixture
def operation(site: Site) -> int:
    """A shop with a password, a hall table, and its glue-up: clamps off 30 min after."""
    with site.session() as db:
        shop = factories.shop(db)
        factories.maker(db, shop, "Ada")
        found = factories.give_password(db, "Ada", WORDS)
        assert found.password_hash
        glue = factories.product(db, shop, stages=[{"name": "out of clamps", "hours": 0.5}])
        build = factories.build(db, shop)
        return factories.operation(db, build, "glue-up", name="Glue up the top", product_id=glue.id).id


@pytest.fixture(params=[True, False], ids=["with scripts", "without scripts"])
def page(request: pytest.FixtureRequest, browser: Browser, site: Site, operation: int) -> Iterator[Page]:
    """A phone on which Ada is signed in."""
    options = {"viewport": PHONE, "has_touch": True, "is_mobile": True, "java_script_enabled": request.param}
    found, wrong = open_page(browser, site, **options)
    found.goto("/sign-in")
    sign_in(found)
    expect(found).to_have_url(f"{site.url}/")
    yield found
    found.context.close()
    assert not [said for said in wrong if "ERR_INTERNET_DISCONNECTED" not in said], wrong


def sign_in(page: Page) -> None:
    page.get_by_label("Name", exact=False).first.fill("Ada")
    page.get_by_label("Password").fill(WORDS)
    page.get_by_role("button", name="Sign in").click()


def fill_in_a_line(page: Page, note: str = "") -> None:
    page.goto("/stock/new")
    page.get_by_label("What", exact=True).fill("Hinges")
    page.get_by_label("Quantity as billed").fill("1")
    page.get_by_label("Unit", exact=True).fill("pcs")
    page.get_by_label("Price for one").fill("42.50")
    page.get_by_label("Note").fill(note)


def lines(site: Site) -> list[Material]:
    with site.session() as db:
        return list(db.scalars(select(Material)))


def test_a_form_opened_at_eight_is_saved_at_half_past_three(page: Page, site: Site) -> None:
    """SA10: nothing ran out in between."""
    fill_in_a_line(page)
    site.forward(page, hours=7, minutes=30)
    page.get_by_role("button", name="Save the line").click()
    page.wait_for_url("**/stock?**")
    assert [line.total_minor for line in lines(site)] == [4250]


def test_token_and_sign_in_ran_out_and_one_tap_finishes_it(page: Page, site: Site) -> None:
    """SA10: the text survives the sign-in; two lines of it, quotes and signs as they were typed."""
    note = 'two short ones, "B" side\n<1/8 & é'
    fill_in_a_line(page, note)
    site.forward(page, hours=7, minutes=30)
    with site.session() as db:
        db.execute(update(SignIn).values(ended_at=site.clock.moment))
        db.commit()
    page.context.clear_cookies()
    page.get_by_role("button", name="Save the line").click()
    expect(page.get_by_text("Your sign-in has run out. What you typed is kept")).to_be_visible()
    expect(page.get_by_text("Hinges")).to_be_visible()
    sign_in(page)
    expect(page.get_by_text("What you typed is here. One tap saves it.")).to_be_visible()
    assert lines(site) == []
    page.get_by_role("button", name="Save it now").click()
    page.wait_for_url("**/stock?**")
    [line] = lines(site)
    assert (line.name, line.total_minor, line.note) == ("Hinges", 4250, note)


def test_the_token_alone_ran_out(page: Page, site: Site) -> None:
    """SA10: somebody signed in anew in another tab; the form of the first one is still taken, by one tap."""
    fill_in_a_line(page, "Brass")
    other = page.context.new_page()
    page.context.clear_cookies()
    other.goto("/sign-in")
    sign_in(other)
    expect(other).to_have_url(f"{site.url}/")
    other.close()
    page.get_by_role("button", name="Save the line").click()
    expect(page.get_by_text("This page had been open for a long time.")).to_be_visible()
    page.get_by_role("button", name="Save it now").click()
    page.wait_for_url("**/stock?**")
    assert [(line.name, line.note) for line in lines(site)] == [("Hinges", "Brass")]


def test_the_time_left_is_right_on_the_first_paint(page: Page, site: Site, operation: int) -> None:
    """SA12: 30 min, the phone locked for 10; what the server wrote is right before a script has run."""
    page.goto("/")
    with site.session() as db:
        assert db.get_one(Operation, operation).name == "Glue up the top"
    page.goto(f"/operations/{operation}/done")
    page.get_by_role("button", name="Done").first.click()
    left = page.locator(".ends small time").first
    expect(left).to_have_text("in 30 min")
    site.forward(page, minutes=10)
    page.goto("/", wait_until="commit")
    expect(left).to_have_text("in 20 min")
    site.forward(page, hours=1)
    page.goto("/")
    expect(page.get_by_text("Glue up the top: out of clamps?")).to_be_visible()
    expect(page.get_by_text("40 min ago")).to_be_visible()


@pytest.mark.parametrize("page", [True], indirect=True, ids=["with scripts"])
def test_a_tab_in_the_background_catches_up_at_once(page: Page, site: Site, operation: int) -> None:
    """SA12: an hour without a single tick, then the tab is looked at; nothing was counted, so nothing is off."""
    page.goto(f"/operations/{operation}/start")
    page.get_by_role("button", name="Start", exact=True).click()
    page.goto("/")
    expect(page.locator("[data-since]").first).to_have_text("0:00")
    page.evaluate("() => { for (let id = 1; id < 10000; id++) clearInterval(id); }")
    page.clock.set_fixed_time(site.clock.forward(hours=1))
    expect(page.locator("[data-since]").first).to_have_text("0:00")
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    assert page.locator("[data-since]").first.inner_text() == "1:00"


@pytest.mark.parametrize("page", [True], indirect=True, ids=["with scripts"])
def test_a_lost_answer_and_a_second_try_make_one_line(page: Page, site: Site) -> None:
    """SA15: the server had it, the answer got lost; going back and sending again stores nothing twice."""
    lost = iter([True])

    def network(route: Route) -> None:
        if route.request.method == "POST" and next(lost, False):
            route.fetch(max_redirects=0)
            route.abort("internetdisconnected")
        else:
            route.continue_()

    page.route("**/stock/new", network)
    fill_in_a_line(page)
    form = page.evaluate("() => Object.fromEntries(new FormData(document.querySelector('form[data-keep]')))")
    page.get_by_role("button", name="Save the line").click()
    page.wait_for_timeout(300)
    assert len(lines(site)) == 1
    typed = {name: value for name, value in form.items() if isinstance(value, str)}
    answer = page.request.post("/stock/new", multipart=typed, headers={"Origin": site.url}, max_redirects=0)
    assert answer.status == 303
    assert len(lines(site)) == 1


def test_a_double_tap_is_one_line(page: Page, site: Site) -> None:
    """SA15: "add cost 42.50", tapped twice."""
    fill_in_a_line(page)
    page.get_by_role("button", name="Save the line").dblclick(no_wait_after=True)
    page.wait_for_url("**/stock?**")
    with site.session() as db:
        assert db.scalar(select(func.count()).select_from(Material)) == 1
