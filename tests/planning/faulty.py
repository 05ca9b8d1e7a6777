"""Shop documents with one fault each, of a kind, and the path at which it is to be told: keys, names, references."""

import copy
from collections.abc import Iterator
from random import Random
from typing import Any

from tests.planning.invent_things import document as invented
from tests.planning.shop import Json

Fault = tuple[Any, str]  # what is to be read, and the path that is to be told


def base(random: Random) -> Json:
    """An invented document without a fault, with something in every list."""
    source = copy.deepcopy(invented(random.randint(0, 10**6), builds=3, operations=6))
    while not any(len(build["operations"]) > 1 for build in source["builds"]):
        source = copy.deepcopy(invented(random.randint(0, 10**6), builds=3, operations=6))
    source["shop"]["closed"] = [{"from": "2026-02-10", "to": "2026-02-12"}]
    source["shop"]["climate"]["readings"] = [{"at": source["now"], "temperature": 19, "room": "loft"}]
    if not isinstance(source["shop"]["makers"], list):
        source["shop"]["makers"] = [{"name": "Ann"}]
    return source


def operation(source: Json, random: Random) -> tuple[Json, str]:
    """An operation of a document, and the path to it."""
    number = random.randrange(len(source["builds"]))
    place = random.randrange(len(source["builds"][number]["operations"]))
    return source["builds"][number]["operations"][place], f"builds[{number}].operations[{place}]"


def spots(value: Any, path: str = "") -> Iterator[tuple[Json, str]]:
    """Every object of a document whose keys are set down, with the path to it."""
    if isinstance(value, dict):
        if not path.endswith((".reached", ".recoat_over")):
            yield value, path
        for key, item in value.items():
            yield from spots(item, f"{path}.{key}" if path else key)
    elif isinstance(value, list):
        for number, item in enumerate(value):
            yield from spots(item, f"{path}[{number}]")


def unknown_key(random: Random) -> Fault:
    source = base(random)
    spot, path = random.choice(list(spots(source)))
    key = random.choice(["colour", "Name", "minute", "finish", "due_date", "stage_", "_"])
    spot[key] = random.choice([1, None, "x", [], {}])
    return source, f"{path}.{key}".lstrip(".")


def missing_key(random: Random) -> Fault:
    source = base(random)
    one, path = operation(source, random)
    ways: list[tuple[Json, str, str]] = [
        (source, "", "benchtide"),
        (source, "", "now"),
        (source, "", "shop"),
        *[(source["shop"], "shop.", key) for key in ("time_zone", "hours", "climate")],
        *[(source["shop"]["climate"], "shop.climate.", key) for key in ("day", "night")],
        *[(one, f"{path}.", key) for key in ("key", "kind", "minutes")],
        (source["builds"][0], "builds[0].", "name"),
        (source["builds"][1], "builds[1].", "operations"),
        (source["products"][0], "products[0].", "name"),
        (source["products"][0], "products[0].", "rated_at"),
    ]
    spot, before, key = random.choice(ways)
    del spot[key]
    return source, f"{before}{key}"


def wrong_type(random: Random) -> Fault:
    source = base(random)
    one, path = operation(source, random)
    ways: list[tuple[Json, str, str, list[Any]]] = [
        (source, "", "now", [5, None, [], True]),
        (source, "", "builds", [{}, "x", 1]),
        (source, "", "products", [{}, "x", 1]),
        (source["shop"], "shop.", "hours", [{}, "x", None]),
        (source["shop"], "shop.", "least_minutes", ["x", 1.5, None, True]),
        (source["shop"]["climate"], "shop.climate.", "day", ["18", None, [], False]),
        (source["builds"][0], "builds[0].", "due", [5, [], {}, True]),
        (source["builds"][0], "builds[0].", "weight", ["x", None, True]),
        (one, f"{path}.", "minutes", ["30", None, [], True, 2.5]),
        (one, f"{path}.", "split", ["yes", 1, []]),
        (one, f"{path}.", "makers", ["2", None, 1.5, True]),
        (one, f"{path}.", "after", [{}, "x", None]),
        (one, f"{path}.", "reached", [[], "x", None]),
    ]
    spot, before, key, values = random.choice(ways)
    spot[key] = random.choice(values)
    return source, f"{before}{key}"


def dangling(random: Random) -> Fault:
    """A reference to what is not there."""
    source = base(random)
    one, path = operation(source, random)
    name = random.choice(["gone", "", "Shop", "glue ", "o99"]) or "none"
    number = int(path[7 : path.index("]")])
    ways: list[tuple[Json, str, Any, str]] = [
        (one, "room", name, f"{path}.room"),
        (one, "product", name, f"{path}.product"),
        (one, "over", name, f"{path}.over"),
        (one, "again_for", name, f"{path}.again_for"),
        (one, "after", [{"operation": name}], f"{path}.after[0].operation"),
        (one, "equipment", [{"name": name, "count": 1}], f"{path}.equipment[0].name"),
        (one, "equipment", [{"name": "press", "count": 1, "until": name}], f"{path}.equipment[0].until"),
        (one, "reached", {"gone": source["now"]}, f"{path}.reached.gone"),
        (
            source["builds"][number],
            "done_at",
            [{"operation": name, "stage": "x"}],
            f"builds[{number}].done_at[0].operation",
        ),
        (source["products"][1], "dust_free", name, "products[1].dust_free"),
        (source["products"][1], "recoat_over", {"gone": []}, "products[1].recoat_over.gone"),
        (source["shop"]["climate"]["readings"][0], "room", name, "shop.climate.readings[0].room"),
    ]
    spot, key, value, told = random.choice(ways)
    spot[key] = value
    return source, told


def circle(random: Random) -> Fault:
    """Operations in a ring; the first of them in the document is told."""
    source = base(random)
    count, build = random.randint(1, 6), source["builds"][random.randrange(3)]
    keys = [f"ring{number}" for number in range(count)]
    ring: list[Json] = [{"key": key, "kind": "mill", "minutes": 10} for key in keys]
    by = [random.choice(["after", "after", "over"]) for _ in keys]
    for number, one in enumerate(ring):
        one[by[number]] = keys[number - 1] if by[number] == "over" else [{"operation": keys[number - 1]}]
    random.shuffle(ring)
    first = len(build["operations"])
    build["operations"] += ring
    key = "over" if "over" in ring[0] else "after"
    return source, f"builds[{source['builds'].index(build)}].operations[{first}].{key}"


def twice(random: Random) -> Fault:
    """The same name or key twice; the second is told."""
    source = base(random)
    _, path = operation(source, random)
    number = int(path[7 : path.index("]")])
    lists: list[tuple[list[Json], str, str]] = [
        (source["builds"], "builds", "name"),
        (source["products"], "products", "name"),
        (source["shop"]["rooms"], "shop.rooms", "name"),
        (source["shop"]["equipment"], "shop.equipment", "name"),
        (source["shop"]["makers"], "shop.makers", "name"),
        (source["builds"][number]["operations"], f"builds[{number}].operations", "key"),
        (source["products"][0]["stages"], "products[0].stages", "name"),
        (source["products"][1]["tend"], "products[1].tend", "key"),
    ]
    found, before, key = random.choice(lists)
    found.append(copy.deepcopy(random.choice(found)))
    return source, f"{before}[{len(found) - 1}].{key}"
