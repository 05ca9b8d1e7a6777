"""The pages for people stay true: every folder on the map, every setting in both tables, every picture there."""

import re
from pathlib import Path

from webapp import settings

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_map_names_every_folder() -> None:
    folders = [path.parent.relative_to(ROOT) for path in (ROOT / "webapp").glob("*/__init__.py")]
    assert not [str(folder) for folder in folders if f"`{folder}`" not in DEVELOPERS]


def test_both_pages_name_every_setting() -> None:
    names = [name for name, _, _ in settings.TABLE]
    assert not [name for name in names if f"`{name}`" not in DEVELOPERS or f"`{name}`" not in README]


def test_readme_shows_pictures_that_are_there() -> None:
    shown = re.findall(r'!\[[^\]]*\]\(([^)]+)\)|<img src="([^"]+)"', README)
    names = [one or other for one, other in shown]
    assert len(names) >= 2
    assert not [name for name in names if not (ROOT / name).is_file()]


def test_readme_opens_with_the_job() -> None:
    first = README.split("\n\n")[1]
    assert len(first.split()) > 40
    assert "glue" in first
