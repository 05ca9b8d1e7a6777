"""Nothing is left out in silence: a test that cannot run is named, and in CI the run fails."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
# stands in for a machine that lacks something; the hooks are those of tests/conftest.py
LACKING = """
from tests import conftest
from tests.conftest import pytest_collection_modifyitems, pytest_make_collect_report, pytest_runtest_makereport
conftest.lacking = lambda: {lacking!r}
"""
MARKERS = "".join(f"    {mark}: x\n" for mark in ("browser", "postgres", "shared"))


def run(folder: Path, test: str, lacking: dict[str, str] | None = None, ci: str = "") -> tuple[int, str]:
    """The exit code and all that was printed of a run of one file of tests."""
    (folder / "conftest.py").write_text(LACKING.format(lacking=lacking or {}))
    (folder / "test_it.py").write_text(f"import pytest\n\n{test}")
    (folder / "test_beside.py").write_text("def test_beside():\n    pass\n")
    (folder / "pytest.ini").write_text(f"[pytest]\nmarkers =\n{MARKERS}")
    environment = {name: value for name, value in os.environ.items() if name not in ("CI", "PYTEST_ADDOPTS")}
    found = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "."],
        cwd=folder,
        env={**environment, "CI": ci, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=120,
    )
    return found.returncode, found.stdout + found.stderr


def marked(mark: str) -> str:
    return f"@pytest.mark.{mark}\ndef test_one():\n    assert False\n\n\ndef test_other():\n    pass\n"


@pytest.mark.parametrize("mark", ["postgres", "browser", "shared"])
def test_what_cannot_run_is_left_out_with_a_line(tmp_path: Path, mark: str) -> None:
    code, said = run(tmp_path, marked(mark), {mark: "it is not there"})
    assert code == 0
    assert f"Left out: 1 tests marked {mark}, for it is not there." in said
    assert "2 passed, 1 deselected" in said


@pytest.mark.parametrize(("mark", "fails"), [("postgres", True), ("browser", True), ("shared", False)])
def test_in_ci_only_the_samples_may_be_left_out(tmp_path: Path, mark: str, fails: bool) -> None:
    code, said = run(tmp_path, marked(mark), {mark: "it is not there"}, ci="true")
    assert (code != 0) is fails
    assert ("In CI nothing may be left out." in said) is fails
    assert "Left out: 1 tests" in said


@pytest.mark.parametrize(
    "test",
    [
        "def test_one():\n    pytest.skip('no')\n",
        "@pytest.mark.skip(reason='no')\ndef test_one():\n    pass\n",
        "@pytest.fixture\ndef it():\n    pytest.skip('no')\n\n\ndef test_one(it):\n    pass\n",
        "@pytest.mark.xfail\ndef test_one():\n    assert False\n",
    ],
    ids=["in the test", "by a mark", "in a fixture", "a failure that is expected"],
)
def test_a_skip_fails(tmp_path: Path, test: str) -> None:
    code, said = run(tmp_path, test)
    assert code == 1, said


def test_a_module_that_skips_itself_fails(tmp_path: Path) -> None:
    code, said = run(tmp_path, "pytest.importorskip('no_such_library')\n\n\ndef test_one():\n    pass\n")
    assert code != 0, said


def test_all_is_well_where_nothing_lacks(tmp_path: Path) -> None:
    code, said = run(tmp_path, "def test_one():\n    pass\n", ci="true")
    assert code == 0
    assert "Left out" not in said
