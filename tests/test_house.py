"""The walls of the house: which floor may import which, where a transaction ends, how long a file may be."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "webapp"
ROOMS = [
    "people",
    "shops",
    "products",
    "builds",
    "journal",
    "sizes",
    "photos",
    "stock",
    "moisture",
    "costs",
    "days",
    "bench",
    "lookback",
    "backups",
    "exports",
    "invented",
]
PURE = {"trade": {"webapp.trade"}, "planning": {"webapp.trade", "webapp.planning"}}
# the only libraries of the pure floors, beside the standard library's calculating parts
NOT_PURE = {"os", "pathlib", "time", "random", "io", "socket", "subprocess", "sqlite3", "secrets", "tempfile"}
LIBRARIES = {"jsonschema"}
LONGEST = 300
NAMES_NOT_USED = {"util", "utils", "helpers", "common", "misc", "manager", "services"}
ONLY_TOP = {"app", "cli", "commands", "serving", "tables", "workers", "wsgi", "__main__"}  # these may know every room


def sources() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Yield (module, line) of each import; `from webapp.web import guard` is webapp.web.guard."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((name.name, node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for name in node.names:
                inside = node.module.startswith("webapp") and (PACKAGE.parent / node.module.replace(".", "/")).is_dir()
                yield (f"{node.module}.{name.name}" if inside else node.module), node.lineno


def floor(path: Path) -> str:
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else parts[0].removesuffix(".py")


def wrong_import(path: Path, module: str) -> bool:
    here = floor(path)
    target = module.split(".")
    if here in PURE:
        return not _is_pure(here, module)
    if target[0] != "webapp" or len(target) < 2:
        return False
    if target[1] in ("app", "cli", "commands", "serving", "workers", "wsgi"):
        return here not in ONLY_TOP
    if target[1] not in ROOMS or here in ONLY_TOP:
        return False
    if here not in ROOMS:
        return True  # db and web know no room
    if target[1] == here:
        return False
    return ROOMS.index(target[1]) > ROOMS.index(here) or "views" in target or "forms" in target


def _is_pure(here: str, module: str) -> bool:
    if module.startswith("webapp"):
        return any(module == allowed or module.startswith(allowed + ".") for allowed in PURE[here])
    top = module.split(".")[0]
    return top not in NOT_PURE and (top in STANDARD or (here == "planning" and top in LIBRARIES))


STANDARD = {
    "__future__", "bisect", "calendar", "collections", "contextlib", "copy", "dataclasses", "datetime", "decimal",
    "enum", "fractions", "functools", "heapq", "itertools", "json", "math", "operator", "re", "statistics", "string",
    "types", "typing", "unicodedata", "zoneinfo",
}  # fmt: skip


def test_imports_point_down() -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{line} imports {module}"
        for path in sources()
        for module, line in imports(path)
        if wrong_import(path, module)
    ]
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(
    ("path", "module"),
    [
        ("trade/lengths.py", "flask"),
        ("trade/lengths.py", "webapp.planning.hours"),
        ("planning/hours.py", "random"),
        ("web/guard.py", "webapp.people.models"),
        ("shops/models.py", "webapp.builds.models"),
        ("costs/views.py", "webapp.builds.views"),
        ("bench/views.py", "webapp.app"),
    ],
)
def test_the_wall_stops_what_it_should(path: str, module: str) -> None:
    assert wrong_import(PACKAGE / path, module)


def test_nothing_is_imported_inside_a_function() -> None:
    wrong = [
        f"{path.relative_to(ROOT)}:{inner.lineno}"
        for path in sources()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef)
        for inner in ast.walk(node)
        if isinstance(inner, ast.Import | ast.ImportFrom)
    ]
    assert not wrong, "\n".join(wrong)


def test_a_transaction_ends_only_in_views_and_commands() -> None:
    """The last act of a view or a command: between the commit and the return nothing else happens."""
    wrong = []
    for path in sources():
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if ".commit(" in line and floor(path) != "commands" and "views" not in path.stem:
                wrong.append(f"{path.relative_to(ROOT)}:{number}")
    assert not wrong, "\n".join(wrong)


def _reason(text: str) -> bool:
    return "longer than 300 lines:" in text[:1500]


@pytest.mark.parametrize("folder", ["webapp", "tests", "templates", "static/js", "static/css"])
def test_no_file_is_long_without_a_reason(folder: str) -> None:
    wrong = []
    for path in sorted((ROOT / folder).rglob("*")):
        if path.suffix in {".py", ".html", ".js", ".css"} and "vendor" not in path.parts:
            text = path.read_text(encoding="utf-8")
            if len(text.splitlines()) > LONGEST and not _reason(text):
                wrong.append(f"{path.relative_to(ROOT)}: {len(text.splitlines())} lines")
    assert not wrong, "\n".join(wrong)


def test_files_are_named_after_nouns() -> None:
    assert not [path for path in sources() if path.stem in NAMES_NOT_USED]


def test_every_template_is_used() -> None:
    templates = ROOT / "templates"
    code = "\n".join(path.read_text(encoding="utf-8") for path in [*sources(), *templates.rglob("*.html")])
    unused = [
        name
        for name in (str(path.relative_to(templates)) for path in sorted(templates.rglob("*.html")))
        if f'"{name}"' not in code and f"'{name}'" not in code
    ]
    assert not unused


def test_nothing_is_written_inline() -> None:
    """The Content-Security-Policy allows no inline script or style; a template that has one would break silently."""
    inline = re.compile(r"\sstyle=|\son[a-z]+=\"|<script(?![^>]*\ssrc=)|<style")
    wrong = [
        f"{path.relative_to(ROOT)}:{number}"
        for path in sorted((ROOT / "templates").rglob("*.html"))
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if inline.search(line)
    ]
    assert not wrong, "\n".join(wrong)
