"""Take the pictures of README anew: the bench on a phone and Days on a desk, of the invented shop.

python -m tests.browser.readme_pictures
"""

import tempfile
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from tests.browser.conftest import ARGUMENTS, DESK, PHONE, Site, open_page
from tests.conftest import CHROMIUM, Clock

ROOT = Path(__file__).parent.parent.parent
FOLDER = ROOT / ".readme"
SHOTS = (("bench.png", "/", PHONE, 2), ("days.png", "/days", DESK, 1))
NEW_YORK = "America/New_York"
COLOURS = 256


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Site(Path(folder) / "instance", Clock())
        site.thread.start()
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        page, _ = open_page(browser, site, timezone_id=NEW_YORK)
        page.goto("/")
        page.get_by_role("button", name="Look round an invented shop").click(timeout=90_000)
        page.get_by_role("heading", name="Waiting").wait_for(timeout=90_000)
        for name, path, size, scale in SHOTS:
            page, _ = open_page(browser, site, viewport=size, device_scale_factor=scale, timezone_id=NEW_YORK)
            page.goto(path)
            _save(page.screenshot(), FOLDER / name)
        browser.close()
        site.close()


def _save(shot: bytes, path: Path) -> None:
    """Few colours are on a page: kept as a table of them it is less than half the size."""
    few = (
        Image.open(BytesIO(shot)).convert("RGB").quantize(COLOURS, Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    )
    few.save(path, optimize=True)


if __name__ == "__main__":
    main()
