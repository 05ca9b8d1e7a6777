"""Invented shop documents with all that takes place: clamps, wet pieces, dust, what must follow soon, pairs."""

from random import Random
from typing import Any

from tests.planning.invent import Json
from tests.planning.invent import document as plain

EQUIPMENT: list[Json] = [{"name": "clamps", "count": 8}, {"name": "press", "count": 1}]
RESCUE: list[list[str]] = [["scuff"], ["wash", "scuff"], []]


def document(seed: int, builds: int = 3, operations: int = 8, pins: bool = False) -> Json:
    """The document of `invent.document` for a seed, with things."""
    source, random = plain(seed, builds, operations, pins), Random(f"things {seed}")
    shop = source["shop"]
    shop["equipment"] = EQUIPMENT
    shop["rooms"] = [
        one | {"drying_places": random.choice([1, 2, None]), "settle_minutes": random.choice([0, 20, 90])}
        for one in shop["rooms"]
    ]
    source["products"] = [product(random, one) for one in source["products"]]
    for build in source["builds"]:
        for one in build["operations"]:
            operation(random, one)
        again(random, build)
        stages = {one["key"]: "machine" for one in build["operations"] if one.get("product") == "glue"}
        if stages and random.random() < 0.3:
            key = random.choice(list(stages))
            build["done_at"] = [{"operation": key, "stage": stages[key]}]
    return source


def product(random: Random, one: Json) -> Json:
    if one["name"] == "oil":
        over: Any = random.choice([{}, {"oil": [{"from_hours": 48, "needs": ["wash", "sand"]}]}])
        stages = [{"name": "dust free", "hours": 3}, *one["stages"]]
        return one | {
            "missed_needs": random.choice(RESCUE),
            "recoat_over": over,
            "stages": stages,
            "dust_free": "dust free",
        }
    if one["name"] == "varnish":
        free = random.choice([None, "dry"])
        return one | {"dust_free": free, "recoat_over": random.choice([{}, {"oil": [{"from_hours": 30}]}])}
    return one


def operation(random: Random, one: Json) -> None:
    for link in one["after"]:
        if random.random() < 0.15:
            link["within_minutes"] = random.choice([0, 60, 480, 3000])
    if one["kind"] == "glue-up" and random.random() < 0.8:
        until = random.choice([None, "clamps off", "machine"])
        one["equipment"] = [{"name": "clamps", "count": random.choice([2, 5, 6, 10]), "until": until}]
    elif random.random() < 0.15:
        one["equipment"] = [{"name": "press", "count": 1}]
    if one["kind"] == "dry fit" and random.random() < 0.2:
        one["dusty"] = True


def again(random: Random, build: Json) -> None:
    """Have abandoned work done again, sometimes."""
    for one in [one for one in build["operations"] if "abandoned" in one]:
        if random.random() < 0.6:
            same = {key: one[key] for key in ("kind", "minutes", "makers", "room", "product", "stages") if key in one}
            build["operations"].append({"key": f"{one['key']}-2", "after": [], "again_for": one["key"], **same})
