"""No second clock: one set of pure functions turns hours of a wait into an instant; only plan and record call it."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "webapp"
CLOCK = {"trade/waits/cure.py", "trade/waits/clock.py"}
# whoever wants an end asks the clock; nobody else may
ASKS = {
    "stage_ends": {"journal/waits.py"},
    "paced_ends": {"planning/graph.py", "planning/latest.py", "planning/begun_now.py"},
    "began_by": {"planning/latest.py", "planning/backwards/bounds.py"},
    "wait_minutes": {"planning/cold.py"},
    "recoat_windows": {"planning/laid.py", "planning/moving.py", "planning/backwards/bounds.py", "journal/layers.py"},
    "tendings": {"planning/tending.py", "journal/waits.py"},
    "whole_minutes": set[str](),
}
# the invented shop plays the maker: it says when he came, and tests that what he says agrees with the clock
PLAYS = {"invented/timeline.py", "invented/waits.py"}
HOURS = re.compile(r"(^|_)hours$")


def sources() -> Iterator[tuple[str, ast.Module]]:
    for path in sorted(PACKAGE.rglob("*.py")):
        name = path.relative_to(PACKAGE).as_posix()
        if name not in CLOCK | PLAYS:
            yield name, ast.parse(path.read_text(encoding="utf-8"))


def name_of(node: ast.AST) -> str:
    """The last name of an expression: `hours` of stage.hours, stage["hours"], w.get("from_hours") and float(hours)."""
    match node:
        case ast.Name(id=name) | ast.Attribute(attr=name) | ast.Subscript(slice=ast.Constant(value=str(name))):
            return name
        case ast.Call(func=ast.Attribute(attr="get"), args=[ast.Constant(value=str(name)), *_]):
            return name
        case ast.Call(args=[inner]):
            return name_of(inner)
    return ""


def reckons_with_hours(node: ast.AST) -> bool:
    """Whether an expression multiplies hours, or makes a span of time of them."""
    match node:
        case ast.BinOp(left=left, op=ast.Mult(), right=right):
            return any(HOURS.search(name_of(side)) for side in (left, right))
        case ast.Call(func=ast.Name(id="timedelta") | ast.Attribute(attr="timedelta"), keywords=keywords):
            return any(key.arg == "hours" and not isinstance(key.value, ast.Constant) for key in keywords)
    return False


def calls(tree: ast.Module) -> set[str]:
    return {name_of(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}


def test_only_the_plan_and_the_record_ask_the_clock() -> None:
    found = {name: set[str]() for name in ASKS}
    for path, tree in sources():
        for name in calls(tree) & set(ASKS):
            found[name].add(path)
    assert found == ASKS


def test_nobody_else_turns_hours_into_time() -> None:
    """Typed spans, spans in words, the demo's relative times and the shift of a photo's clock are no ends."""
    others = {
        "trade/products/ages.py",
        "builds/words.py",
        "web/fields.py",
        "invented/rows.py",
        "photos/forms.py",
        "products/fields.py",
        "web/images.py",
    }
    found = {path for path, tree in sources() if any(reckons_with_hours(node) for node in ast.walk(tree))}
    assert found - others == set()


@pytest.mark.parametrize(
    "code",
    [
        "began + stage.hours * 60",
        "60 * w['from_hours']",
        "float(stage['hours']) * 60",
        "begin + timedelta(hours=stage.hours)",
        "timedelta(hours=float(w.get('to_hours')))",
    ],
)
def test_the_search_finds_a_second_clock(code: str) -> None:
    assert any(reckons_with_hours(node) for node in ast.walk(ast.parse(code)))


def test_no_script_knows_how_long_anything_takes() -> None:
    """Pages count to an instant the server gave them (data-until), and never from a number of hours."""
    for path in sorted((ROOT / "static/js").glob("*.js")):
        code = path.read_text(encoding="utf-8")
        assert not re.search(r"dataset\.(hours|minutes|stage)|3600000|36e5|setHours|\* 60 \* 60", code), path.name
    templates = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "templates").rglob("*.html"))
    assert not re.search(r"timedelta|now\(\)\s*\+|\.(at|end|begin)\s*\+", templates)
