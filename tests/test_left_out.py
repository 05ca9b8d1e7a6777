"""Nothing is left out in silence: a test that cannot run is named, and in CI the run fails."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import conftest

pytest_plugins = ["pytester"]

ROOT = Path(__file__).parent.parent
HOOKS = "pytest_collection_modifyitems, pytest_make_collect_report, pytest_runtest_makereport, pytest_sessionstart"
MARKERS = "".join(f"    {mark}: x\n" for mark in ("browser", "postgres", "shared"))
Found = tuple[int, str]


def put(folder: Path, test: str, lacking: str = "") -> None:
    """A folder of tests with the hooks of tests/conftest.py."""
    (folder / "conftest.py").write_text(f"from tests import conftest\nfrom tests.conftest import {HOOKS}\n{lacking}")
    (folder / "test_it.py").write_text(f"import pytest\n\n{test}")
    (folder / "test_beside.py").write_text("def test_beside():\n    pass\n")
    (folder / "pytest.ini").write_text(f"[pytest]\nmarkers =\n{MARKERS}")


class Run:
    """Runs of pytest in this process, which need not load the app each time."""

    def __init__(self, pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> None:
        self.pytester, self.monkeypatch = pytester, monkeypatch

    def __call__(self, test: str, lacking: dict[str, str] | None = None, ci: str = "") -> Found:
        """The exit code and all that was printed of a run of one file of tests."""
        self.monkeypatch.setattr(conftest, "lacking", lambda: lacking or {})  # a machine that lacks something
        self.monkeypatch.setattr(conftest, "WORKER", "")
        self.monkeypatch.setenv("CI", ci)
        self.monkeypatch.delenv("PYTEST_ADDOPTS", raising=False)
        put(self.pytester.path, test)
        found = self.pytester.runpytest_inprocess("-q", "-p", "no:cacheprovider", ".")
        return int(found.ret), f"{found.stdout}\n{found.stderr}"


@pytest.fixture
def run(pytester: pytest.Pytester, monkeypatch: pytest.MonkeyPatch) -> Run:
    return Run(pytester, monkeypatch)


def marked(mark: str) -> str:
    return f"@pytest.mark.{mark}\ndef test_one():\n    assert False\n\n\ndef test_other():\n    pass\n"


@pytest.mark.parametrize("mark", ["postgres", "browser", "shared"])
def test_what_cannot_run_is_left_out_with_a_line(run: Run, mark: str) -> None:
    code, said = run(marked(mark), {mark: "it is not there"})
    assert code == 0
    assert f"Left out: 1 tests marked {mark}, for it is not there." in said
    assert "2 passed, 1 deselected" in said


@pytest.mark.parametrize(("mark", "fails"), [("postgres", True), ("browser", True), ("shared", False)])
def test_in_ci_only_the_samples_may_be_left_out(run: Run, mark: str, fails: bool) -> None:
    code, said = run(marked(mark), {mark: "it is not there"}, ci="true")
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
def test_a_skip_fails(run: Run, test: str) -> None:
    code, said = run(test)
    assert code == 1, said


def test_a_module_that_skips_itself_fails(run: Run) -> None:
    code, said = run("pytest.importorskip('no_such_library')\n\n\ndef test_one():\n    pass\n")
    assert code != 0, said


def test_all_is_well_where_nothing_lacks(run: Run) -> None:
    code, said = run("def test_one():\n    pass\n", ci="true")
    assert code == 0
    assert "Left out" not in said


@pytest.mark.parametrize("processes", ["0", "2"])
def test_a_run_of_its_own_ends_with_that_code(tmp_path: Path, processes: str) -> None:
    """As CI starts it: the line and the code are those of the process, also where processes share the tests."""
    lacking = 'conftest.lacking = lambda: {"postgres": "it is not there"}\n'
    put(tmp_path, marked("postgres"), lacking)
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST_")}
    found = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", processes, "."],
        cwd=tmp_path,
        env={**environment, "CI": "true", "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        timeout=120,
    )
    said = found.stdout + found.stderr
    assert found.returncode == 1, said
    assert "marked postgres, for it is not there." in said
    assert "In CI nothing may be left out." in said
