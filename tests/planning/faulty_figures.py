"""Shop documents with one fault each, of a kind, and the path at which it is to be told: hours, times, figures."""

from random import Random
from typing import Any

from tests.planning.faulty import Fault, base, operation
from tests.planning.shop import Json


def crossed_hours(random: Random) -> Fault:
    """Opens at its closing or after it."""
    source = base(random)
    hours = random.choice(["08:00", "12:30", "23:59", "00:01"])
    opening: Json = {"open": hours, "close": random.choice([hours, "00:00"])}
    place = random.choice(["hours", "extra", "makers"])
    shop = source["shop"]
    if place == "extra":
        shop["extra"].append({"date": "2026-05-05", **opening})
        return source, f"shop.extra[{len(shop['extra']) - 1}]"
    if place == "makers":
        shop["makers"][-1]["hours"] = [{"days": ["tue"], **opening}]
        return source, f"shop.makers[{len(shop['makers']) - 1}].hours[0]"
    shop["hours"].append({"days": ["tue"], **opening})
    return source, f"shop.hours[{len(shop['hours']) - 1}]"


def overlapping_hours(random: Random) -> Fault:
    """Two weekly openings that overlap on a day."""
    source = base(random)
    owner, path = random.choice([(source["shop"], "shop"), (source["shop"]["makers"][0], "shop.makers[0]")])
    first: Json = {"days": ["mon", "wed", "fri"], "open": "08:00", "close": "12:00"}
    times = random.choice(
        [("11:59", "13:00"), ("07:00", "08:01"), ("00:00", "24:00"), ("09:00", "10:00"), ("08:00", "12:00")]
    )
    days = random.choice([["wed"], ["tue", "fri"], ["sun", "mon"]])
    owner["hours"] = [first, {"days": days, "open": times[0], "close": times[1]}]
    return source, f"{path}.hours[1]"


def never_open(random: Random) -> Fault:
    source = base(random)
    source["shop"]["hours"] = []
    source["shop"]["extra"] = []
    if random.random() < 0.5:
        del source["shop"]["extra"]
    return source, "shop.hours"


def wrong_time(random: Random) -> Fault:
    """An unknown zone, a time without offset, a day that is not there, another version."""
    source = base(random)
    one, path = operation(source, random)
    bad = random.choice(
        [
            "2026-02-02T08:00:00",
            "2026-02-30T08:00:00Z",
            "8:00",
            "soon",
            "",
            "1969-12-31T23:59:00Z",
            "2200-01-01T00:00:00Z",
        ]
    )
    ways: list[tuple[Json, str, Any, str]] = [
        (source, "now", bad, "now"),
        (source, "benchtide", random.choice([0, 2, "1", 1.5, None, True]), "benchtide"),
        (
            source["shop"],
            "time_zone",
            random.choice(["Mars/Olympus", "", "Europe", "../zone", "CEST "]),
            "shop.time_zone",
        ),
        (source["shop"]["climate"]["readings"][0], "at", bad, "shop.climate.readings[0].at"),
        (
            source["shop"]["closed"][0],
            "from",
            random.choice(["2026-02-30", "2026-2-1", "today"]),
            "shop.closed[0].from",
        ),
        (source["builds"][0], "due", random.choice([bad, "2026-02-30", "27 Feb"]), "builds[0].due"),
        (source["builds"][0], "not_before", bad, "builds[0].not_before"),
        (one, "not_before", bad, f"{path}.not_before"),
        (one, "pinned", {"at": bad}, f"{path}.pinned.at"),
        (one, "pinned", {"on": "2026-02-30"}, f"{path}.pinned.on"),
    ]
    spot, key, value, told = random.choice(ways)
    spot[key] = value
    return source, told


def wrong_number(random: Random) -> Fault:
    """A number that is not finite or out of range."""
    source = base(random)
    one, path = operation(source, random)
    ways: list[tuple[Json, str, list[Any], str]] = [
        (one, "minutes", [0, -5, 10**7, 10**300, float("inf")], f"{path}.minutes"),
        (one, "makers", [0, -1, 201], f"{path}.makers"),
        (one, "count", [0, -1], f"{path}.count"),
        (one, "worked_minutes", [-1, float("nan")], f"{path}.worked_minutes"),
        (one, "assembly_minutes", [-1, 10**9], f"{path}.assembly_minutes"),
        (source["builds"][0], "weight", [-1, float("nan"), 1e300], "builds[0].weight"),
        (source["shop"], "least_minutes", [-1, 10**9], "shop.least_minutes"),
        (source["shop"], "makers", [0, -1, 201], "shop.makers"),
        (source["shop"]["climate"], "humidity", [-1, 101, float("inf")], "shop.climate.humidity"),
        (source["shop"]["climate"], "day", [float("nan"), -1000, 10**9], "shop.climate.day"),
        (source["products"][0], "doubles_per", [0, -8, float("inf")], "products[0].doubles_per"),
        (source["products"][0]["stages"][0], "hours", [-1, 10**9, float("nan")], "products[0].stages[0].hours"),
    ]
    spot, key, values, told = random.choice(ways)
    spot[key] = random.choice(values)
    return source, told


def wrong_windows(random: Random) -> Fault:
    """Recoat windows that overlap, are out of order, or end before they begin."""
    source = base(random)
    number = random.randrange(3)
    hours = sorted(random.sample(range(1, 90), 4))
    first, second = {"from_hours": hours[0], "to_hours": hours[1]}, {"from_hours": hours[2], "to_hours": hours[3]}
    found: list[Json] = random.choice(
        [
            [second, first],
            [{**first, "to_hours": hours[2] + 1}, second],
            [{"from_hours": hours[0]}, second],
            [{"from_hours": hours[1], "to_hours": hours[0]}],
            [first, {"from_hours": hours[2], "to_hours": hours[2]}],
        ]
    )
    source["products"][number]["recoat"] = found
    return source, f"products[{number}].recoat"


def wrong_course(random: Random) -> Fault:
    """Work that ended before it began or after now, more done than there is, an estimate out of order."""
    source = base(random)
    one, path = operation(source, random)
    for key in ("started", "finished", "abandoned", "worked_minutes", "paused", "count", "done"):
        one.pop(key, None)
    before, now, later = "2026-01-02T08:00:00Z", "2026-01-05T08:00:00Z", "2199-01-01T00:00:00Z"
    key = random.choice(["finished", "abandoned", "wait_began"])
    low, likely, high = random.choice([(30, 20, 40), (10, 20, 15), (30, 20, 10)])
    ways: list[tuple[Json, str]] = [
        ({"finished": now}, "finished"),
        ({"started": now, key: before}, key),
        ({"started": later}, "started"),
        ({"started": now, key: later}, key),
        ({"count": 4, "done": random.randint(5, 9)}, "done"),
        ({"done": 2}, "done"),
        ({"minutes": {"low": low, "likely": likely, "high": high}}, "minutes"),
    ]
    change, told = random.choice(ways)
    one |= change
    return source, f"{path}.{told}"
