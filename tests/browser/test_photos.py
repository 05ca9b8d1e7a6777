"""Photos go one by one when scripts run, so that a weak network loses at most one of them."""

from collections.abc import Iterator
from datetime import datetime

import pytest
from playwright.sync_api import Browser, FilePayload, Page, Route, expect
from sqlalchemy import func, select

from tests import factories
from tests.browser.conftest import PHONE, Site, open_page
from tests.photos.sending import jpeg
from webapp.people.models import Person
from webapp.photos.models import Photo

pytestmark = pytest.mark.browser


@pytest.fixture
def page(browser: Browser, site: Site) -> Iterator[Page]:
    """The form that sends photos of a hall table, on a phone."""
    with site.session() as db:
        shop = factories.shop(db)
        factories.maker(db, shop, "Ada")
        db.scalars(select(Person)).one().password_hash = None
        db.commit()
        build = factories.build(db, shop).id
    found, wrong = open_page(browser, site, viewport=PHONE, has_touch=True, is_mobile=True)
    found.goto(f"/builds/{build}/photos/new")
    yield found
    found.context.close()
    assert not [text for text in wrong if "ERR_INTERNET_DISCONNECTED" not in text], wrong


def choose(page: Page, *contents: bytes) -> None:
    files: list[FilePayload] = [
        {"name": f"IMG_{number}.jpg", "mimeType": "image/jpeg", "buffer": content}
        for number, content in enumerate(contents)
    ]
    page.get_by_label("Photos", exact=True).set_input_files(files)


def stored(site: Site) -> int:
    with site.session() as db:
        return db.scalar(select(func.count()).select_from(Photo)) or 0


def test_each_goes_by_itself_and_a_bad_one_is_named(page: Page, site: Site) -> None:
    """SA03: the good ones are stored, the note is still there."""
    posts: list[str] = []
    page.on("request", lambda request: posts.append(request.url) if request.method == "POST" else None)
    choose(page, jpeg("green"), b"only words", jpeg("blue"))
    expect(page.get_by_text("3 chosen")).to_be_visible()
    page.get_by_label("What they show").fill("Boards as they came")
    page.get_by_role("button", name="Add photos").click()
    expect(page.get_by_text("IMG_1.jpg: This is text, not a photo")).to_be_visible()
    expect(page.get_by_text("2 stored. Those named above were not taken.")).to_be_visible()
    expect(page.get_by_label("What they show")).to_have_value("Boards as they came")
    assert len(posts) == 3
    assert stored(site) == 2


def test_a_lost_connection_is_said_and_a_tap_sends_the_rest(page: Page, site: Site) -> None:
    """SA15: what arrived before is not sent again, what arrived without an answer is stored once."""
    answers = iter(("good", "lost", "good", "good"))

    def network(route: Route) -> None:
        if route.request.method != "POST":
            route.continue_()
            return
        if next(answers) == "lost":
            route.fetch()  # it arrives, and its answer does not
            route.abort("internetdisconnected")
        else:
            route.continue_()

    page.route("**/photos/new", network)
    choose(page, jpeg("green"), jpeg("blue"), jpeg("red"))
    page.get_by_role("button", name="Add photos").click()
    expect(page.get_by_text("No connection. 1 stored so far. Tap again to send the rest.")).to_be_visible()
    page.get_by_role("button", name="Add photos").click()
    page.wait_for_url("**/builds/*#photos")
    expect(page.locator("#photos img")).to_have_count(3)
    assert stored(site) == 3


def test_a_wrong_clock_is_asked_about_once_for_all(page: Page, site: Site) -> None:
    """SA02: (a) also when they went one by one."""
    clocks = [datetime(2018, 1, 1, hour, 3) for hour in (0, 1)]  # noqa: DTZ001 - a camera's clock
    choose(page, *(jpeg(colour, clock) for colour, clock in zip(("green", "blue"), clocks, strict=True)))
    page.get_by_role("button", name="Add photos").click()
    page.wait_for_url("**/photos/shift?ids=1,2")
    page.get_by_role("button", name="Use the camera’s time").click()
    page.wait_for_url("**/builds/*#photos")
    with site.session() as db:
        assert {photo.at.year for photo in db.scalars(select(Photo))} == {2018}


def test_somebody_signed_out_meanwhile_loses_no_text(page: Page, site: Site) -> None:
    """SA10: the page that comes back holds what was typed."""
    choose(page, jpeg())
    page.get_by_label("What they show").fill("Before the glue went on")
    page.context.clear_cookies()
    page.get_by_role("button", name="Add photos").click()
    expect(page.get_by_text("Before the glue went on")).to_be_visible()
    assert stored(site) == 0
