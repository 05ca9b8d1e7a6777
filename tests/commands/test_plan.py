"""The command that plans a shop document."""

import io
import json
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from tests.planning.shop import Json, build, op, shop
from webapp import cli


@pytest.fixture
def document(tmp_path: Path) -> Path:
    return saved(tmp_path / "shop.json", shop(build(op("a"), op("b", name="Säge"), due="2026-02-06")))


def saved(path: Path, what: Json) -> Path:
    path.write_text(json.dumps(what), encoding="utf-8")
    return path


def plan(*arguments: object) -> int:
    with pytest.raises(SystemExit) as caught:
        cli.main(["plan", *map(str, arguments)])
    return int(caught.value.code or 0)


def test_it_prints_the_plan_as_json(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(document) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["key"] for one in found["builds"][0]["operations"]] == ["a", "b"]


def test_it_lays_builds_backwards(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(document, "--latest") == 0
    found = json.loads(capsys.readouterr().out)["builds"][0]["operations"]
    assert [one["latest_spans"][0][0][:16] for one in found] == ["2026-02-06T15:00", "2026-02-06T16:00"]


def test_it_prints_the_schema_without_a_document(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan("--schema") == 0
    schema = json.loads(capsys.readouterr().out)
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    assert validator.is_valid(json.loads(document.read_text(encoding="utf-8")))
    assert not validator.is_valid({"benchtide": 1})


def test_it_prints_a_table(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(document, "--table") == 0
    head = capsys.readouterr().out.splitlines()[4]
    assert " ".join(head.split()) == "when build operation who why waits until"


def test_a_terminal_of_few_letters_gets_the_others_spelled(document: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = io.TextIOWrapper(io.BytesIO(), encoding="ascii", write_through=True)
    monkeypatch.setattr(sys, "stdout", out)
    assert plan(document, "--table") == 0
    assert b"S\\xe4ge" in out.buffer.getvalue()  # type: ignore[attr-defined]


def test_it_keeps_to_the_order_it_is_shown(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    starts = {"b": "2026-02-02T08:00:00-05:00", "a": "2026-02-02T09:00:00-05:00"}
    operations = [{"key": key, "start": start} for key, start in starts.items()]
    shown = saved(
        document.parent / "plan.json", {"benchtide": 1, "builds": [{"name": "Desk", "operations": operations}]}
    )
    assert plan(document, "--shown", shown, "--schedules", "1") == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["key"] for one in found["builds"][0]["operations"]] == ["b", "a"]


def test_its_own_plan_can_be_shown_to_it(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan(document)
    first = capsys.readouterr().out
    shown = document.parent / "plan.json"
    shown.write_text(first, encoding="utf-8")
    assert plan(document, "--shown", shown) == 0
    assert capsys.readouterr().out == first


def test_what_is_wrong_is_said_with_status_2(document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(document, "--shown", saved(document.parent / "plan.json", {"benchtide": 2})) == 2
    assert plan(document.parent / "gone.json") == 2
    assert plan(document, "--shown", document.parent / "gone.json") == 2
    assert plan() == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("shown.benchtide: is not version 1")


@pytest.mark.parametrize("count", ["0", "-1", "1.5", "many", "99999999999"])
def test_only_a_number_of_schedules_will_do(count: str, document: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert plan(document, "--schedules", count) == 2
    assert "is not a whole number" in capsys.readouterr().err or count.startswith("-")
