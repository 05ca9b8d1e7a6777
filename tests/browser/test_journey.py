"""The whole job on a phone, with and without JavaScript: from the first visit to the review of a delivered piece."""

import io
import re
from datetime import UTC, datetime

from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import Site

MONDAY = datetime(2026, 2, 2, 13, 30, tzinfo=UTC)  # 08:30 in New York
OPERATIONS = (
    # name, kind, minutes, glue or finish, waits for
    ("Mill the boards", "final mill", "1 h", "", ""),
    ("Glue up the panel", "glue-up", "40 min", "yellow PVA", "Mill the boards: done"),
    ("Groove the panel", "groove", "50", "", "Glue up the panel: out of clamps"),
    ("Fit the catch", "fit hardware", "0:30", "", "Groove the panel: done"),
    ("First coat", "coat", "20", "shellac", "Fit the catch: done"),
    ("Second coat", "coat", "20", "shellac", ""),
)


def picture(size: tuple[int, int], orientation: int = 1) -> bytes:
    image, out = Image.new("RGB", size, "sienna"), io.BytesIO()
    exif = Image.Exif()
    exif[274] = orientation
    image.save(out, "JPEG", exif=exif.tobytes())
    return out.getvalue()


def press(page: Page, name: str) -> None:
    page.get_by_role("button", name=re.compile(f"^{re.escape(name)}($|[:,])")).first.click()


def follow(page: Page, name: str | re.Pattern[str]) -> None:
    page.get_by_role("link", name=name).first.click()


def start_a_shop(page: Page) -> None:
    page.goto("/")
    expect(page.get_by_role("heading", level=1)).to_contain_text("memory and a clock")
    follow(page, "Start my own shop")
    page.get_by_label("Your name").fill("Ada")
    page.get_by_label("Name of the shop").fill("The Long Shed")
    page.get_by_label("Time zone").select_option("America/New_York")
    page.get_by_label("Currency").select_option("USD")
    page.get_by_label("Lengths in").select_option("in")
    page.get_by_label("Temperatures in").select_option("F")
    press(page, "Start the shop")
    press(page, "Save the hours")


def begin_a_piece(page: Page) -> None:
    page.goto("/builds/new")
    page.get_by_label("What is it?").fill("Panel door cabinet")
    page.get_by_label("Wood", exact=True).fill("ash")
    page.get_by_label("Where it stands").select_option("in the making")
    press(page, "Begin this piece")
    for number, (name, kind, minutes, product, waits_for) in enumerate(OPERATIONS):
        if number == 0:
            follow(page, "Add an operation")
        page.get_by_label("What is done").fill(name)
        page.get_by_label("Kind").fill(kind)
        page.get_by_label("Hands-on time").fill(minutes)
        if product:
            page.get_by_label("Glue or finish").select_option(label=product)
        if waits_for:
            page.get_by_label("Waits for", exact=True).select_option(label=waits_for)
        if name == "Second coat":
            page.get_by_label("A layer over").select_option(label="First coat")
        press(page, "Save" if number == len(OPERATIONS) - 1 else "Save, and the next one")
    expect(page.get_by_role("heading", level=1)).to_have_text("Panel door cabinet")


def start(page: Page, name: str) -> None:
    page.goto("/")
    page.locator(".row", has_text=name).get_by_role("button", name=re.compile("^Start")).first.click()


def finish(page: Page, site: Site, **span: float) -> None:
    site.forward(page, **span)
    page.goto("/")
    press(page, "Done")


def test_the_whole_job(phone: Page, site: Site) -> None:
    page = phone
    site.clock.moment = MONDAY
    page.clock.set_fixed_time(MONDAY)
    start_a_shop(page)
    begin_a_piece(page)

    start(page, "Mill the boards")
    expect(page.locator(".inhand")).to_contain_text("Mill the boards")
    finish(page, site, minutes=75)
    start(page, "Glue up the panel")
    finish(page, site, minutes=40)

    # 10:25: an hour in clamps at 70 °F is 66 minutes at 68 °F
    waiting = page.locator("section", has=page.get_by_role("heading", name="Waiting"))
    expect(waiting).to_contain_text("Leave in clamps")
    expect(waiting).to_contain_text("11:31")
    expect(waiting).to_contain_text("1 h")

    follow(page, "Start anyway: Groove the panel")
    page.get_by_label(re.compile("Why")).fill("The groove is far from the glue line")
    press(page, "Start all the same")
    expect(page.locator(".inhand")).to_contain_text("Started too early")
    finish(page, site, minutes=50)

    three_photos(page)
    two_lines_of_material(page)
    follow(page, "Cost sheet")
    expect(page.locator(".sheet").first).to_contain_text("$88.50")
    page.goto("/days")
    expect(page.get_by_role("heading", name="Days", level=1)).to_be_visible()
    expect(page.locator("body")).to_contain_text("Fit the catch")

    for name, minutes in (("Fit the catch", 30), ("First coat", 20)):
        start(page, name)
        finish(page, site, minutes=minutes)
    site.forward(page, hours=20)
    page.goto("/")
    press(page, "Dry")
    start(page, "Second coat")
    finish(page, site, minutes=25)
    look_back(page)


def three_photos(page: Page) -> None:
    page.goto("/builds/1")
    follow(page, "Add photos")
    page.get_by_label("Photos", exact=True).set_input_files(
        [
            {"name": "one.jpg", "mimeType": "image/jpeg", "buffer": picture((400, 300))},
            {"name": "sideways.jpg", "mimeType": "image/jpeg", "buffer": picture((402, 300), orientation=6)},
            {"name": "three.jpg", "mimeType": "image/jpeg", "buffer": picture((404, 300))},
        ]
    )
    press(page, "Add photos")
    expect(page.locator("#photos img")).to_have_count(3)
    upright = page.locator("#photos img[height]").evaluate_all(
        "images => images.filter((i) => +i.getAttribute('height') > +i.getAttribute('width')).length"
    )
    assert upright == 1  # the one that lay on its side


def two_lines_of_material(page: Page) -> None:
    for kind, name, quantity, unit, price in (
        ("wood", "Ash", "12", "bd ft", "6.25"),
        ("hardware", "Catch", "1", "pcs", "13.50"),
    ):
        page.goto("/builds/1/materials/new")
        page.get_by_label("Kind").select_option(kind)
        page.get_by_label("What", exact=True).fill(name)
        page.get_by_label("Quantity as billed").fill(quantity)
        page.get_by_label("Unit", exact=True).fill(unit)
        page.get_by_label(re.compile("^Price for one")).fill(price)
        press(page, "Save the line")
    page.goto("/builds/1")


def look_back(page: Page) -> None:
    page.goto("/builds/1")
    page.locator("#standing summary").click()
    page.locator("#standing").get_by_label("Where it stands").select_option("delivered")
    page.locator("#standing").get_by_label("Delivered on").fill("2026-02-03")
    page.locator("#standing").get_by_role("button", name="Save").click()
    page.goto("/lookback")
    expect(page.locator(".pasts")).to_contain_text("Panel door cabinet")
    follow(page, "Panel door cabinet")
    expect(page.locator("table")).to_contain_text("Glue up the panel")
    expect(page.locator("table")).to_contain_text("1:15")
