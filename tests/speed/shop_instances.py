"""Shops with several pieces under way, invented the same for the same seed: what the planner is measured on.

`shop` makes large ones, 25 to 40 operations a build: evenings and Saturdays of one maker, work that needs an unbroken
stretch, work that pauses at closing, waits of an hour to five days, clamps, an assembly bench and places to dry that
are held while something waits. Every time is a multiple of 15 minutes. They lie in `instances`, so that they stay the
same whatever becomes of this file. `small` makes shops of up to 12 operations that can be solved to the end, with
windows for the next coat and with dust; these are made when they are wanted.

python tests/speed/shop_instances.py --write
"""

import json
import sys
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

Json = dict[str, Any]

FOLDER = Path(__file__).parent / "instances"
SIZES, SEEDS = (6, 8, 10, 20), (1, 2)
NOW = datetime.fromisoformat("2026-02-02T18:00:00-05:00")  # a Monday
WORKDAYS = ["mon", "tue", "wed", "thu", "fri"]
EVENINGS = [
    {"days": WORKDAYS, "open": "18:00", "close": "21:30"},
    {"days": ["sat"], "open": "09:00", "close": "17:00"},
]
DAYTIME = [{"days": WORKDAYS, "open": "08:00", "close": "17:00"}]
A_WEEK = 25.5 * 60  # open minutes of the evenings
GLUES: list[Json] = [
    {"name": "wood glue", "stages": [{"name": "clamps off", "hours": 1}, {"name": "ready to plane", "hours": 24}]},
    {"name": "slow glue", "stages": [{"name": "clamps off", "hours": 4}, {"name": "ready to plane", "hours": 72}]},
    {"name": "epoxy", "stages": [{"name": "clamps off", "hours": 12}, {"name": "ready to plane", "hours": 120}]},
]
FINISHES: list[Json] = [
    {"name": "shellac", "dust_free": "dust free", "stages": [{"name": "dust free", "hours": 1}],
     "recoat": [{"from_hours": 2}]},
    {"name": "varnish", "dust_free": "dust free", "stages": [{"name": "dust free", "hours": 6}],
     "recoat": [{"from_hours": 24}]},
    {"name": "oil", "dust_free": "dust free", "stages": [{"name": "dust free", "hours": 10}],
     "recoat": [{"from_hours": 48}]},
]  # fmt: skip


def shop(builds: int, seed: int) -> Json:
    """A shop document with so many builds of 25 to 40 operations."""
    random = Random(f"shop {builds} {seed}")
    pieces = [_Piece(random).whole() for _ in range(builds)]
    weeks = sum(sum(one["minutes"] for one in piece) for piece in pieces) / A_WEEK
    turns = random.sample(range(1, builds + 1), builds)
    made = [
        {
            "name": f"Piece {number}",
            "due": _date(timedelta(weeks=1.5 + turn / builds * weeks * random.uniform(0.6, 1.1))),
            "weight": random.choice([1, 1, 1, 2]),
            "operations": piece,
        }
        for number, (turn, piece) in enumerate(zip(turns, pieces, strict=True), 1)
    ]
    place = {
        "time_zone": "America/New_York",
        "hours": EVENINGS,
        "makers": 1,
        "equipment": [{"name": "clamps", "count": 12}, {"name": "assembly bench", "count": 1}],
        "rooms": [{"name": "finishing room", "drying_places": seed % 2 + 1}],
        "climate": {"day": 20, "night": 20},
    }
    return _document(place, GLUES + FINISHES, made)


class _Piece:
    """One build, put together step by step."""

    def __init__(self, random: Random) -> None:
        self.random, self.steps = random, []  # type: tuple[Random, list[Json]]

    def whole(self) -> list[Json]:
        size = self.random.randint(25, 40)
        coats = self.random.randint(2, 4)
        tail = 5 + coats
        ends = [self.panel() for _ in range(self.random.randint(1, 3))]
        ends += [self.frame() for _ in range(self.random.randint(1, 2))]
        while len(self.steps) < size - tail - 3:
            ends.append(self.part())
        ends += [self.step("shape", 15, 120) for _ in range(size - tail - len(self.steps))]
        self.tail(ends, coats)
        return self.steps

    def step(self, kind: str, low: int, high: int, *after: str, **more: Any) -> str:
        """Add an operation that waits for others, each "key" or "key:stage"; its key."""
        key = f"o{len(self.steps) + 1}"
        links = [dict(zip(("operation", "stage"), one.split(":"), strict=False)) for one in after]
        minutes = 15 * self.random.randint(low // 15, high // 15)
        self.steps.append({"key": key, "kind": kind, "minutes": minutes, "after": links, **more})
        return key

    def panel(self) -> str:
        """Boards that rest after the rough cut, are glued up and made level when the glue has let go its water."""
        rest = [{"name": "rested", "hours": self.random.choice([24, 48, 72, 120])}]
        rough = self.step("rough mill", 45, 150, stages=rest)
        final = self.step("final mill", 45, 150, f"{rough}:rested")
        glue = self.glue(30, 75, [final], self.random.randint(2, 5))
        return self.step("level", 30, 90, f"{glue}:ready to plane")

    def frame(self) -> str:
        """Legs and rails, or a carcase: joined, tried dry, glued up on the bench."""
        mill = self.step("mill", 45, 150)
        join = self.step("mortise", 60, 240, mill)
        tenon = self.step("joinery", 60, 240, mill)
        dry = self.step("dry fit", 15, 45, join, tenon)
        glue = self.glue(45, 105, [dry], self.random.randint(3, 8), bench=True)
        return f"{glue}:clamps off"

    def part(self) -> str:
        mill = self.step("cut", 30, 90)
        made = self.step(self.random.choice(["joinery", "shape", "dovetail", "turn"]), 45, 240, mill)
        return self.step("sand", 15, 75, made)

    def glue(self, low: int, high: int, after: list[str], clamps: int, bench: bool = False) -> str:
        held = [{"name": "clamps", "count": clamps, "until": "clamps off"}]
        held += [{"name": "assembly bench", "count": 1, "until": "clamps off"}] if bench else []
        product = self.random.choice(GLUES)["name"]
        return self.step("glue-up", low, high, *after, product=product, equipment=held)

    def tail(self, ends: list[str], coats: int) -> None:
        glue = self.glue(60, 120, ends, self.random.randint(4, 10), bench=True)
        sand = self.step("sand", 60, 150, f"{glue}:clamps off")
        finish = self.random.choice(FINISHES)["name"]
        coat = self.step("coat", 15, 60, sand, product=finish, room="finishing room")
        for _ in range(coats - 1):
            coat = self.step("coat", 15, 60, product=finish, room="finishing room", over=coat)
        rub = self.step("rub out", 30, 90, f"{coat}:dust free")
        fit = self.step("fit hardware", 30, 120, rub)
        self.step("pack", 15, 45, fit)


SMALL_GLUE: Json = {
    "name": "wood glue",
    "stages": [{"name": "clamps off", "hours": 2}, {"name": "ready to plane", "hours": 24}],
}
# The first lacquer wants its next coat soon or much later, the second by the next evening or not without sanding.
SMALL_FINISHES: list[Json] = [
    {"name": "lacquer", "dust_free": "dust free", "stages": [{"name": "dust free", "hours": 1}],
     "recoat": [{"from_hours": 1, "to_hours": 4}, {"from_hours": 48, "needs": ["sand"]}]},
    {"name": "varnish", "dust_free": "dust free",
     "stages": [{"name": "dust free", "hours": 3}, {"name": "light use", "hours": 24}],
     "recoat": [{"from_hours": 4, "to_hours": 27}, {"from_hours": 27, "needs": ["sand"]}]},
    {"name": "shellac", "dust_free": "dust free", "stages": [{"name": "dust free", "hours": 0.5}],
     "recoat": [{"from_hours": 1}]},
]  # fmt: skip


def small(seed: int) -> Json:
    """A shop document of up to 12 operations, with windows for the next coat, equipment, dust and due dates."""
    random = Random(f"small {seed}")
    builds, left, made = random.randint(1, 3), random.randint(6, 12), []
    for number in range(1, builds + 1):
        count = left - builds + number if number == builds else random.randint(1, left - builds + number)
        count = max(1, min(count, left - (builds - number)))
        left -= count
        made.append(_small_build(random, number, count))
    room = {"name": "shop", "drying_places": random.choice([1, 1, 2]), "settle_minutes": random.choice([0, 30, 60])}
    place = {
        "time_zone": "America/New_York",
        "hours": random.choice([EVENINGS, DAYTIME]),
        "makers": 1,
        "equipment": [{"name": "clamps", "count": random.choice([3, 4])}],
        "rooms": [room],
        "climate": {"day": 20, "night": 20},
    }
    return _document(place, [SMALL_GLUE, *SMALL_FINISHES], made)


def _small_build(random: Random, number: int, count: int) -> Json:
    finish = random.choice(SMALL_FINISHES)["name"]
    steps: list[Json] = []
    for index in range(count):
        steps.append(_small_step(random, f"o{index + 1}", steps, finish))
    found: Json = {"name": f"Piece {number}", "operations": steps, "weight": random.choice([1, 1, 2])}
    if random.random() < 0.8:
        found["due"] = _date(timedelta(days=random.randint(0, 5)))
    coats = [one["key"] for one in steps if one.get("product") == "varnish"]
    if coats and random.random() < 0.5:
        found["done_at"] = [{"operation": coats[-1], "stage": "light use"}]
    return found


def _small_step(random: Random, key: str, before: list[Json], finish: str) -> Json:
    kind = random.choice(["mill", "joinery", "sand", "glue-up", "coat", "coat", "fit hardware"])
    step: Json = {"key": key, "kind": kind, "room": "shop", "minutes": 15 * random.randint(1, 4)}
    coats = [one["key"] for one in before if one["kind"] == "coat"]
    others = [one for one in before if one["kind"] != "coat"]
    if kind == "glue-up":
        held = {"name": "clamps", "count": random.randint(1, 3), "until": "clamps off"}
        step |= {"product": "wood glue", "equipment": [held]}
    elif kind == "coat":
        step["product"] = finish
        if coats:
            step["over"] = coats[-1]
    else:
        step["minutes"] = 15 * random.randint(1, 14)
    chosen = others if kind == "coat" and coats else before
    after = random.sample(chosen, min(len(chosen), random.choice([0, 1, 1, 1, 2])))
    step["after"] = [_small_link(random, one) for one in after]
    return step


def _small_link(random: Random, other: Json) -> Json:
    stages = {"glue-up": ["clamps off", "clamps off", "ready to plane"], "coat": ["dust free"]}.get(other["kind"], [""])
    stage = random.choice(stages)
    return {"operation": other["key"]} | ({"stage": stage} if stage else {})


def _date(later: timedelta) -> str:
    return (NOW + later).date().isoformat()


def _document(place: Json, products: list[Json], builds: list[Json]) -> Json:
    return {"benchtide": 1, "now": NOW.isoformat(), "shop": place, "products": products, "builds": builds}


def path(builds: int, seed: int) -> Path:
    """Where a large shop is kept."""
    return FOLDER / f"shop-{builds}-{seed}.json"


def text(document: Json) -> str:
    """A document with an operation a line, defaults left out."""
    lines = []
    for build in document["builds"]:
        head = json.dumps({key: value for key, value in build.items() if key != "operations"})
        steps = [json.dumps({key: value for key, value in one.items() if value != []}) for one in build["operations"]]
        lines.append(head[:-1] + ', "operations": [\n' + ",\n".join(steps) + "]}")
    head = json.dumps({key: value for key, value in document.items() if key != "builds"})
    return head[:-1] + ', "builds": [\n' + ",\n".join(lines) + "]}\n"


if __name__ == "__main__" and "--write" in sys.argv:
    for size in SIZES:
        for number in SEEDS:
            path(size, number).write_text(text(shop(size, number)), encoding="utf-8")
