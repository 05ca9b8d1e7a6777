"""Invented shop documents, the same for the same seed: odd hours, helpers, work in hand, waits, pins."""

from datetime import datetime, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

Json = dict[str, Any]
DAYS = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"]
ZONES = ["America/New_York", "Europe/London", "Australia/Lord_Howe", "America/Havana", "Asia/Kathmandu"]
# moments in the week of a clock change of some of these zones, and quiet ones
MOMENTS = ["2026-03-05T14:20", "2026-03-26T09:00", "2026-10-24T07:07", "2026-02-02T08:00", "2026-06-10T21:45"]
KINDS = ["mill", "joinery", "glue-up", "coat", "sand", "fit hardware", "dry fit"]
PRODUCTS: list[Json] = [
    {
        "name": "glue",
        "rated_at": 20,
        "doubles_per": 7.5,
        "lowest": 10,
        "lowest_for_hours": 5,
        "open_minutes": 15,
        "stages": [{"name": "clamps off", "hours": 1.06}, {"name": "machine", "hours": 30, "doubles_per": None}],
    },
    {
        "name": "oil",
        "family": "oil",
        "tend": [
            {"key": "wipe", "at_minutes": 20, "within_minutes": 15, "minutes": 10},
            {"key": "look", "at_minutes": 60, "within_minutes": 60, "minutes": 5},
        ],
        "rated_at": 21,
        "counts_above": 8,
        "humidity_max": 70,
        "stages": [{"name": "light use", "hours": 24}],
        "recoat": [{"from_hours": 0, "to_hours": 2}, {"from_hours": 20, "needs": ["sand"]}],
    },
    {
        "name": "varnish",
        "rated_at": 18,
        "doubles_per": 8,
        "faster_when_warm": True,
        "lowest": 7,
        "lowest_for_hours": 12,
        "dew_gap": 5,
        "stages": [{"name": "dry", "hours": 6}],
        "recoat": [{"from_hours": 6, "to_hours": 30}],
    },
]
CLIMATES: list[Json] = [
    {"day": 20, "night": 20},
    {"day": 20, "night": 20},
    {"day": 19, "night": 13.5, "humidity": 66},
    {"day": 22, "night": 9, "day_from": "06:30", "day_to": "20:00"},
    {"day": 9, "night": 21, "day_from": "23:00", "day_to": "05:00"},
    {"day": 6, "night": 4},
]
ROOMS: list[Json] = [{"name": "shop"}, {"name": "loft", "climate": {"day": 16, "humidity": 75}}]


def clock(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"


def week(random: Random) -> list[Json]:
    """One or two openings a day on some days; some touch at noon or midnight."""
    rows = []
    for day in random.sample(DAYS, random.randint(2, 7)):
        start = random.choice([0, 7 * 60, 8 * 60, 13 * 60 + 20])
        noon = start + random.choice([45, 180, 240])
        rows.append({"days": [day], "open": clock(start), "close": clock(noon)})
        if random.random() < 0.6:
            again = noon + random.choice([0, 60])
            rows.append({"days": [day], "open": clock(again), "close": random.choice(["24:00", clock(again + 200)])})
    return rows


def document(seed: int, builds: int = 3, operations: int = 8, pins: bool = False) -> Json:
    random = Random(seed)
    zone = ZoneInfo(random.choice(ZONES))
    now = datetime.fromisoformat(random.choice(MOMENTS)).replace(tzinfo=zone)
    makers: Any = [{"name": "Ann"}, {"name": "Bo"}, {"name": "Cy", "hours": week(random)}][: random.randint(1, 3)]
    shop = {
        "time_zone": zone.key,
        "hours": week(random),
        "closed": [{"from": (now + timedelta(days=2)).date().isoformat()}] if random.random() < 0.5 else [],
        "extra": [{"date": (now + timedelta(days=2)).date().isoformat(), "open": "09:00", "close": "13:00"}],
        "makers": makers if random.random() < 0.8 else len(makers),
        "least_minutes": random.choice([0, 0, 30]),
        "rooms": ROOMS,
        "climate": random.choice(CLIMATES) | {"readings": readings(random, now)},
    }
    made = [build(random, f"Build {number}", operations, now, pins) for number in range(builds)]
    return {"benchtide": 1, "now": now.isoformat(), "shop": shop, "products": PRODUCTS, "builds": made}


READ: list[Json] = [{"temperature": 8.5}, {"temperature": 12}, {"temperature": 19, "humidity": 80}, {"humidity": 68}]


def readings(random: Random, now: datetime) -> list[Json]:
    """Readings of the last days or, as a clock that runs ahead would send them, of the next hours."""
    return [
        {"at": (now + timedelta(minutes=random.randint(-2500, 300))).isoformat()}
        | random.choice(READ)
        | random.choice([{}, {}, {"room": "loft"}, {"counts": False}])
        for _ in range(random.choice([0, 0, 3]))
    ]


def build(random: Random, name: str, count: int, now: datetime, pins: bool) -> Json:
    made: list[Json] = []
    for number in range(random.randint(1, count)):
        made.append(operation(random, number, made))
    begun = [one for one in made if not one["after"] and "over" not in one][:2]
    for one in begun:
        in_hand(random, one, now)
    if pins:
        one = random.choice(made)
        if "started" not in one:
            at = now + timedelta(minutes=random.randint(0, 5000))
            one["pinned"] = random.choice([{"at": at.isoformat()}, {"on": at.date().isoformat()}])
    found: Json = {"name": name, "operations": made}
    if random.random() < 0.6:
        found["due"] = (now + timedelta(days=random.randint(0, 9))).date().isoformat()
    if random.random() < 0.2:
        found["not_before"] = (now + timedelta(days=1)).date().isoformat()
    return found


def operation(random: Random, number: int, before: list[Json]) -> Json:
    kind = random.choice(KINDS)
    made: Json = {"key": f"o{number}", "kind": kind, "minutes": random.choice([10, 25, 60, 110, 300]), "after": []}
    made["makers"] = random.choice([1, 1, 1, 2])
    made["room"] = random.choice([None, "shop", "loft"])
    if kind == "glue-up":
        made |= {"product": "glue", "stages": random.choice([[], [{"name": "clamps off", "hours": 9}]])}
        made |= {"assembly_minutes": random.choice([None, 12, 20])}
        made["overruled"] = random.choice([[], [], ["too-cold"], ["suspect-joint"]])
    if kind == "coat":
        made |= {"product": random.choice(["oil", "varnish"]), "minutes": 20}
    coats = [one["key"] for one in before if one["kind"] == "coat"]
    if kind == "coat" and coats and random.random() < 0.7:
        made["over"] = coats[-1]
    for one in random.sample(before, min(len(before), random.choice([0, 1, 1, 2]))):
        link = {"operation": one["key"], "lag_minutes": random.choice([0, 0, 90])}
        if one.get("product") == "glue" and random.random() < 0.7:
            link["stage"] = random.choice(["clamps off", "machine"])
        if random.random() < 0.1:
            link["within_minutes"] = 480
        made["after"].append(link)
    return made


def in_hand(random: Random, made: Json, now: datetime) -> None:
    """Make an operation a begun one: running, paused, done or abandoned."""
    made["started"] = (now - timedelta(minutes=random.randint(5, 900))).isoformat()
    made["worked_minutes"] = random.choice([0, 20, 400])
    state = random.choice(["running", "paused", "done", "abandoned", "batch"])
    if state == "paused":
        made["paused"] = True
    elif state == "batch":
        made |= {"count": 10, "done": random.randint(0, 9)}
    elif state != "running":
        ended = now - timedelta(minutes=random.randint(0, 4))
        made["finished" if state == "done" else "abandoned"] = ended.isoformat()
