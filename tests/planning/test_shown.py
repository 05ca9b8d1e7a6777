"""The order of the plan last shown."""

import json
from typing import Any

import pytest

from tests.planning.checked_plan import plan_of
from tests.planning.invent import document as invented
from tests.planning.shop import Got, Json, build, op, shop
from webapp.planning.document import answer, read
from webapp.planning.faults import Refused
from webapp.planning.graph import Graph
from webapp.planning.shown import keys_of, order_of


def shown(*keys: str, name: str = "Desk") -> Json:
    """A plan with operations that start an hour after another."""
    operations = [{"key": key, "start": f"2026-02-02T{8 + hour:02}:00:00-05:00"} for hour, key in enumerate(keys)]
    return {"benchtide": 1, "builds": [{"name": name, "operations": operations}]}


def order(document: Json, plan: Json) -> list[str]:
    graph = Graph(read(document))
    return [f"{graph.builds[graph.nodes[n].build].name}.{graph.nodes[n].key}" for n in order_of(plan, graph)]


def test_operations_stand_in_order_of_start_over_all_builds() -> None:
    document = shop(build(op("a"), op("b")), build(op("a"), name="Stool"))
    plan = shown("b", "a")
    plan["builds"].insert(0, {"name": "Stool", "operations": [{"key": "a", "start": "2026-02-02T14:30:00+01:00"}]})
    assert order(document, plan) == ["Desk.b", "Stool.a", "Desk.a"]


def test_what_is_gone_or_was_put_in_is_passed_over() -> None:
    assert order(shop(build(op("a"), op("b"))), shown("b.sand", "b", "gone", "a")) == ["Desk.b", "Desk.a"]
    assert order(shop(build(op("a"))), shown("a", name="Gone")) == ["Desk.a"]


def test_what_is_new_stands_behind_what_it_waits_for() -> None:
    document = shop(build(op("new", after="a"), op("a"), op("b"), op("next"), op("newer", after="new")))
    assert order(document, shown("a", "b")) == ["Desk.a", "Desk.new", "Desk.newer", "Desk.b", "Desk.next"]


def test_a_new_build_stands_last() -> None:
    document = shop(build(op("x"), op("y"), name="Stool"), build(op("a")))
    assert order(document, shown("a")) == ["Desk.a", "Stool.x", "Stool.y"]


def test_work_without_a_start_stands_last() -> None:
    plan = shown("a", "b")
    plan["builds"][0]["operations"][0]["start"] = None
    assert keys_of(plan) == [("Desk", "b"), ("Desk", "a")]


def test_each_node_of_an_invented_shop_stands_in_it_once() -> None:
    for seed in range(5):
        document = invented(seed)
        graph = Graph(read(document))
        plan = plan_of(document)
        plan["builds"] = plan["builds"][1:]
        assert sorted(order_of(plan, graph)) == list(range(len(graph.nodes)))


def test_a_plan_keeps_to_the_order_it_is_shown() -> None:
    document = shop(build(op("a", 60)), build(op("b", 60), name="Stool"))
    plan = {
        "benchtide": 1,
        "builds": [{"name": "Stool", "operations": [{"key": "b", "start": "2026-02-02T08:00:00Z"}]}],
    }
    status, out, _ = answer(json.dumps(document), shown=json.dumps(plan))
    assert (status, Got(json.loads(out)).start("b", "Stool")) == (0, "Mon 08:00")


@pytest.mark.parametrize(
    ("plan", "path"),
    [
        ([], "shown"),
        ({}, "shown.benchtide"),
        ({"benchtide": 2, "builds": []}, "shown.benchtide"),
        ({"benchtide": True, "builds": []}, "shown.benchtide"),
        ({"benchtide": 1}, "shown.builds"),
        ({"benchtide": 1, "builds": [1]}, "shown.builds[0]"),
        ({"benchtide": 1, "builds": [{"operations": []}]}, "shown.builds[0].name"),
        ({"benchtide": 1, "builds": [{"name": "Desk"}]}, "shown.builds[0].operations"),
        ({"benchtide": 1, "builds": [{"name": "Desk", "operations": [{}]}]}, "shown.builds[0].operations[0].key"),
        (
            {"benchtide": 1, "builds": [{"name": "Desk", "operations": [{"key": "a", "start": "soon"}]}]},
            "shown.builds[0].operations[0].start",
        ),
        (
            {"benchtide": 1, "builds": [{"name": "Desk", "operations": [{"key": "a", "start": 5}]}]},
            "shown.builds[0].operations[0].start",
        ),
    ],
)
def test_what_is_no_plan_is_refused_at_its_path(plan: Any, path: str) -> None:
    with pytest.raises(Refused) as caught:
        keys_of(plan)
    assert any(line.startswith(f"{path}: ") for line in str(caught.value).splitlines()), caught.value


@pytest.mark.parametrize("text", ["{", "[" * 100_000])
def test_what_is_no_json_is_refused(text: str) -> None:
    status, out, err = answer(json.dumps(shop(build(op("a")))), shown=text)
    assert (status, out, err.split(":")[0]) == (2, "", "shown")


def test_what_is_new_and_waited_for_stands_before_what_waits_for_it() -> None:
    """A new first step without links of its own: the steps that are known keep their places."""
    document = shop(
        build(op("plane"), op("saw", 60, "mill", "plane"), op("sand", 60, "sand", "saw")), build(op("a"), name="Stool")
    )
    plan = shown("saw", "sand")
    plan["builds"].append({"name": "Stool", "operations": [{"key": "a", "start": "2026-02-03T08:00:00-05:00"}]})
    assert order(document, plan) == ["Desk.plane", "Desk.saw", "Desk.sand", "Stool.a"]
