"""Shop documents with anything wrong anywhere, the same for the same seed."""

import copy
from collections.abc import Iterable, Iterator
from random import Random
from typing import Any

from tests.planning.invent_things import document as invented
from tests.planning.shop import Json

ODD: list[Any] = [
    None, True, False, 0, 1, -1, 1.5, 3, 60, 200, 10**6, 10**18, 1e300, float("nan"), float("inf"), "", " ", "x", "mon",
    "glue", "oil", "varnish", "dry", "o0", "o1", "shop", "loft", "\ud800", "\x00", "a\u202eb", "木", "2026-02-30",
    "2026-02-02", "1970-01-01", "2199-12-31", "2026-02-02T08:00:00", "1970-01-01T00:00:00Z", "2199-12-31T23:59:59Z",
    "2026-03-08T02:30:00-05:00", "0001-01-01T00:00:00+23:59", "24:00", "08:00", [], {}, [[]], [{}], {"": 1}, {"at": 1},
    ["mon"], [{"operation": "o0"}], [{"name": "press", "count": 1}], {"low": 1, "likely": 2, "high": 3},
]  # fmt: skip

KEYS = [
    "pinned", "reached", "overruled", "wait_began", "again_for", "done_at", "not_before", "due", "weight", "over",
    "count", "done", "started", "finished", "abandoned", "assembly_minutes", "makers", "settle_minutes",
    "drying_places", "climate", "counts_above", "lowest", "faster_when_warm", "humidity_max", "dew_gap",
    "open_minutes", "stages", "tend", "recoat",
]  # fmt: skip


def mutated(seed: int) -> Json:
    """A document in which some values were put in, taken out, doubled, moved or borrowed, anywhere."""
    random = Random(f"mutated {seed}")
    source = copy.deepcopy(invented(random.randint(0, 10**6), builds=2, operations=5))
    for _ in range(random.choice([1, 1, 2, 3])):
        random.choice([_borrow, _borrow, _scale, _mutate])(source, random)
    return source


def _borrow(source: Json, random: Random) -> None:
    """Give an object the value that another has under a key."""
    found = [spot for spot in _spots(source) if isinstance(spot, dict) and spot]
    spot = random.choice(found)
    key = random.choice([*spot, *KEYS])
    others = [other[key] for other in found if key in other and other is not spot]
    if others:
        spot[key] = copy.deepcopy(random.choice(others))


def _scale(source: Json, random: Random) -> None:
    """Make a number larger or smaller."""
    found = [(s, key) for s in _spots(source) for key, value in _items(s) if type(value) in (int, float)]
    spot, key = random.choice(found)
    spot[key] = random.choice([0, 1, 2, 77, spot[key] * 2, spot[key] * 300, spot[key] // 2, 10**5])


def _spots(value: Any) -> Iterator[Any]:
    if isinstance(value, dict | list):
        yield value
        for _, item in _items(value):
            yield from _spots(item)


def _items(spot: Any) -> Iterable[tuple[Any, Any]]:
    return spot.items() if isinstance(spot, dict) else enumerate(spot)


def _mutate(source: Json, random: Random) -> None:
    """Put in anything, take out, double or move something, anywhere."""
    spot = random.choice([one for one in _spots(source) if one])
    keys = [key for key, _ in _items(spot)]
    key, other, odd = random.choice(keys), random.choice(keys), copy.deepcopy(random.choice(ODD))
    act = random.choice(["odd", "out", "twice", "moved", "added"])
    if act == "out":
        del spot[key]
    elif act == "moved":
        spot[key], spot[other] = spot[other], spot[key]
    elif act == "odd" or isinstance(spot, dict):
        spot[key if act == "odd" else random.choice(KEYS)] = odd
    else:
        spot.insert(random.randrange(len(spot) + 1), copy.deepcopy(spot[key]) if act == "twice" else odd)
