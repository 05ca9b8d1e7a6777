"""An order that is kept while operations come and go."""

from tests.planning.invent import document as invented
from tests.planning.shop import Json, build, op, shop
from webapp.planning.carried import carried
from webapp.planning.document import read
from webapp.planning.graph import Graph


def order(document: Json, *known: str) -> list[str]:
    graph = Graph(read(document))
    names = [f"{graph.builds[node.build].name}.{node.key}" for node in graph.nodes]
    return [names[number] for number in carried(graph, [names.index(name) for name in known])]


def test_what_is_new_stands_behind_the_last_of_what_it_waits_for() -> None:
    document = shop(build(op("a"), op("b"), op("new", after=["b", "a"]), op("newer", after="new"), op("c")))
    assert order(document, "Desk.c", "Desk.b", "Desk.a") == ["Desk.c", "Desk.b", "Desk.a", "Desk.new", "Desk.newer"]


def test_what_waits_for_nothing_stands_before_what_waits_for_it() -> None:
    document = shop(build(op("new"), op("newer", after="new"), op("a", after="newer")), build(op("x"), name="Stool"))
    assert order(document, "Stool.x", "Desk.a") == ["Stool.x", "Desk.new", "Desk.newer", "Desk.a"]


def test_what_has_no_ties_stands_behind_the_one_before_it_in_its_build_or_last() -> None:
    document = shop(build(op("a"), op("new")), build(op("x"), name="Stool"), build(op("y"), name="Crate"))
    assert order(document, "Desk.a", "Crate.y") == ["Desk.a", "Desk.new", "Crate.y", "Stool.x"]


def test_all_stand_in_it_once_and_what_was_known_keeps_its_order() -> None:
    for seed in range(5):
        graph = Graph(read(invented(seed)))
        known = [node.number for node in graph.nodes if node.number % 3]
        known.reverse()
        found = carried(graph, known)
        assert sorted(found) == list(range(len(graph.nodes)))
        assert [number for number in found if number in known] == known
