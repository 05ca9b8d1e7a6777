"""Reading and printing shop documents: what is refused and where, units, rounding, and the way back to JSON."""

import json
from typing import Any

import pytest

from tests.planning.invent import document as invented
from tests.planning.shop import DAYTIME, Json, build, op, planned, refused, shop
from webapp.planning.document import answer, read
from webapp.planning.export import export
from webapp.planning.faults import Refused
from webapp.planning.schema import SCHEMA

OIL: Json = {
    "name": "oil",
    "stages": [{"name": "dry", "hours": 8}],
    "tend": [{"key": "wipe", "at_minutes": 5, "minutes": 5}],
}


def whole() -> Json:
    """A document with something under every key that can be wrong."""
    operations = [
        op("a", 30, started="2026-02-02T07:00:00-05:00", finished="2026-02-02T07:30:00-05:00"),
        op("b", 20, "coat", "a", product="oil", room="loft", equipment=[{"name": "form", "count": 1, "until": "dry"}]),
        op("c", 20, "coat", "b:dry", product="oil", over="b", pinned={"on": "2026-02-05"}),
        op("d", {"low": 10, "likely": 20, "high": 30}, count=4, done=1),
    ]
    document = shop(
        build(*operations, due="2026-02-27", done_at=[{"operation": "c", "stage": "dry"}]),
        products=[{**OIL, "recoat": [{"from_hours": 1, "to_hours": 2}, {"from_hours": 3}]}],
        equipment=[{"name": "form", "count": 1}],
        rooms=[{"name": "loft"}],
        closed=[{"from": "2026-02-10", "to": "2026-02-12"}],
        extra=[{"date": "2026-02-11", "open": "09:00", "close": "12:00"}],
        makers=[{"name": "A"}, {"name": "B", "hours": DAYTIME}],
    )
    copy: Json = json.loads(json.dumps(document))
    return copy


def changed(path: str, value: Any) -> Json:
    """The document with one value put in at a path; None takes the key out."""
    document = whole()
    at: Any = document
    *way, last = [int(step) if step.isdigit() else step for step in path.split("/")]
    for step in way:
        at = at[step]
    if value is None:
        del at[last]
    elif isinstance(last, int) and last == len(at):
        at.append(value)
    else:
        at[last] = value
    return document


def test_the_whole_document_is_planned() -> None:
    assert answer(json.dumps(whole()))[0] == 0


LATER = "2026-02-02T08:00:01-05:00"
A, B, C, D = (f"builds/0/operations/{number}" for number in range(4))


@pytest.mark.parametrize(
    ("path", "value", "fault"),
    [
        ("now", None, "now"),
        ("shop/climate", None, "shop.climate"),
        ("shop/climate/night", None, "shop.climate.night"),
        ("shop/hours", None, "shop.hours"),
        ("shop/time_zone", "America", "shop.time_zone"),
        ("shop/time_zone", "../etc", "shop.time_zone"),
        ("shop/hours/0/days", [], "shop.hours[0].days"),
        ("shop/hours/0/close", "24:30", "shop.hours[0].close"),
        ("shop/hours/0/open", "17:00", "shop.hours[0]"),
        ("shop/hours/1", {"days": ["fri", "sat"], "open": "16:00", "close": "18:00"}, "shop.hours[1]"),
        ("shop/makers/1/hours/1", {"days": ["fri"], "open": "16:00", "close": "18:00"}, "shop.makers[1].hours[1]"),
        ("shop/makers", 0, "shop.makers"),
        ("shop/makers", [], "shop.makers"),
        ("shop/makers/1/name", "A", "shop.makers[1].name"),
        ("shop/makers/1/colour", "red", "shop.makers[1].colour"),
        ("shop/equipment/0/count", -1, "shop.equipment[0].count"),
        ("shop/extra/0/date", "2026-02-30", "shop.extra[0].date"),
        ("shop/extra/0/close", "08:00", "shop.extra[0]"),
        ("shop/closed/0/to", "2026-02-01", "shop.closed[0].to"),
        ("shop/climate/humidity", 101, "shop.climate.humidity"),
        ("shop/climate/day", True, "shop.climate.day"),
        ("shop/climate/readings", [{"at": LATER, "room": "attic"}], "shop.climate.readings[0].room"),
        ("products/0/doubles_per", 15, "products[0].rated_at"),
        ("products/0/dust_free", "gone", "products[0].dust_free"),
        ("products/0/recoat_over", {"wax": [{"from_hours": 1}]}, "products[0].recoat_over.wax"),
        ("products/0/recoat_over", {"oil": [{"from_hours": 2, "to_hours": 1}]}, "products[0].recoat_over.oil"),
        ("products/0/recoat/1/from_hours", 1.5, "products[0].recoat"),
        ("products/0/recoat/0/to_hours", None, "products[0].recoat"),
        ("products/0/stages/1", {"name": "dry", "hours": 1}, "products[0].stages[1].name"),
        ("products/0/stages/0/hours", -1, "products[0].stages[0].hours"),
        ("products/1", OIL, "products[1].name"),
        ("builds/1", build(op("a")), "builds[1].name"),
        ("builds/0/due", "27 Feb", "builds[0].due"),
        ("builds/0/due", "2026-02-27T17:00", "builds[0].due"),
        ("builds/0/operations", [], "builds[0].operations"),
        ("builds/0/done_at/0/stage", "cured", "builds[0].done_at[0].stage"),
        ("builds/0/done_at/0/operation", "z", "builds[0].done_at[0].operation"),
        (f"{A}/kind", None, "builds[0].operations[0].kind"),
        (f"{A}/minutes", 30.5, "builds[0].operations[0].minutes"),
        (f"{A}/minutes", 0, "builds[0].operations[0].minutes"),
        (f"{A}/minutes", True, "builds[0].operations[0].minutes"),
        (f"{A}/started", None, "builds[0].operations[0].finished"),
        (f"{A}/finished", LATER, "builds[0].operations[0].finished"),
        (f"{A}/finished", "2026-02-02T06:00:00-05:00", "builds[0].operations[0].finished"),
        (f"{A}/wait_began", LATER, "builds[0].operations[0].wait_began"),
        (f"{A}/abandoned", "2026-02-02T06:00:00-05:00", "builds[0].operations[0].abandoned"),
        (f"{A}/key", "b.wipe", "builds[0].operations[0].key"),
        (f"{A}/reached", {"dry": LATER}, "builds[0].operations[0].reached.dry"),
        (f"{B}/reached", {"dry": "noon"}, "builds[0].operations[1].reached.dry"),
        (f"{B}/room", "attic", "builds[0].operations[1].room"),
        (f"{B}/product", 5, "builds[0].operations[1].product"),
        (f"{B}/equipment/0/name", "press", "builds[0].operations[1].equipment[0].name"),
        (f"{B}/equipment/0/until", "cured", "builds[0].operations[1].equipment[0].until"),
        (f"{B}/after/0/operation", "b", "builds[0].operations[1].after"),
        (f"{C}/over", "c", "builds[0].operations[2].over"),
        (f"{C}/over", "z", "builds[0].operations[2].over"),
        (f"{C}/again_for", "z", "builds[0].operations[2].again_for"),
        (f"{C}/pinned", {}, "builds[0].operations[2].pinned"),
        (f"{C}/pinned", {"on": "2026-02-30"}, "builds[0].operations[2].pinned.on"),
        (f"{C}/pinned/at", LATER, "builds[0].operations[2].pinned"),
        (f"{C}/after/0/stage", "wet", "builds[0].operations[2].after[0].stage"),
        (f"{D}/done", 5, "builds[0].operations[3].done"),
        (f"{D}/minutes/low", 25, "builds[0].operations[3].minutes"),
        (f"{D}/minutes/likely", None, "builds[0].operations[3].minutes.likely"),
        (f"{D}/minutes/least", 1, "builds[0].operations[3].minutes.least"),
    ],
)
def test_what_is_wrong_is_named_where_it_is(path: str, value: Any, fault: str) -> None:
    lines = refused(changed(path, value))
    assert [line for line in lines if line.startswith(f"{fault}: ")], lines


def test_one_fault_gives_one_line() -> None:
    assert refused(changed(f"{A}/minutes", -5)) == ["builds[0].operations[0].minutes: -5 is too little; at least 1"]


def test_what_hangs_on_a_fault_is_told_too() -> None:
    assert refused(changed(f"{B}/product", "wax")) == [
        'builds[0].operations[1].product: no product "wax"',
        'builds[0].operations[1].equipment[0].until: no stage of this operation called "dry"',
        'builds[0].operations[2].after[0].stage: no stage on operation "b" called "dry"',
    ]


def test_every_fault_is_told_in_the_order_of_the_document() -> None:
    document = whole()
    document["colour"] = 1
    document["now"] = "soon"
    document["builds"][0]["operations"][3]["minutes"] = "long"
    document["builds"][0]["operations"][1]["room"] = "attic"
    document["shop"]["time_zone"] = "Mars/Olympus"
    del document["products"][0]["name"]
    paths = [line.split(": ")[0] for line in refused(document)]
    assert paths == [
        "now",
        "shop.time_zone",
        "products[0].name",
        "builds[0].operations[1].product",
        "builds[0].operations[1].room",
        "builds[0].operations[1].equipment[0].until",
        "builds[0].operations[2].after[0].stage",
        "builds[0].operations[2].product",
        "builds[0].operations[3].minutes",
        "builds[0].done_at[0].stage",
        "colour",
    ]


def test_a_circle_is_shown_whole() -> None:
    operations = [op("x"), op("a", after="c"), op("b", after="a"), op("c", after="x", over="b"), op("d", after="c")]
    assert refused(shop(build(*operations))) == [
        'builds[0].operations[1].after: a circle: "a" waits for "c", which waits for "b", which waits for "a"'
    ]
    assert refused(shop(build(op("c", over="b"), op("b", after="c")))) == [
        'builds[0].operations[0].over: a circle: "c" waits for "b", which waits for "c"'
    ]


def test_a_circle_through_work_done_again_is_found() -> None:
    gone = op("glue", started="2026-02-02T07:00:00-05:00", abandoned="2026-02-02T07:30:00-05:00")
    circle = [gone, op("again", after="plane", again_for="glue"), op("plane", after="glue")]
    assert refused(shop(build(*circle)))[0].startswith("builds[0].operations[1].after: a circle")
    fine = [gone, op("again", after="glue", again_for="glue"), op("plane", after="glue")]
    assert planned(shop(build(*fine))).start("plane") == "Mon 09:00"


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("", "document: not JSON"),
        ("{", "document: not JSON"),
        ("[1, 2]", "document: this is not an object"),
        ('"a\\ud800"', 'document: "a\\ud800" is not an object'),
        ("[" * 100_000, "document: not JSON: nested too deeply"),
        ('{"benchtide": 1, "benchtide": 1}', "benchtide: this key stands here twice"),
        ('{"shop": {"least_minutes": NaN}}', "shop.least_minutes: is not a finite number"),
        ('{"shop": {"climate": {"day": 1e999}}}', "shop.climate.day: is not a finite number"),
        ('{"shop": {"least_minutes": ' + "9" * 5000 + "}}", "document: not JSON"),
        ('{"a b\\n": 1}', '["a b\\n"]: this key is not known'),
    ],
    ids=["empty", "cut off", "a list", "half a character", "deep", "twice", "NaN", "infinite", "huge", "odd key"],
)
def test_what_is_no_document_is_refused(text: str, line: str) -> None:
    assert any(found.startswith(line) for found in refused(text)), refused(text)


def test_a_huge_number_is_out_of_range() -> None:
    assert refused(changed(f"{A}/minutes", 10**300))[0].endswith("is too much; at most 1000000")


def test_seconds_are_cut_or_rounded_up_as_the_format_says() -> None:
    document = whole()
    document["now"] = "2026-02-02T08:00:30-05:00"
    document["shop"]["climate"]["readings"] = [{"at": "2026-02-02T07:00:59-05:00", "temperature": 1}]
    first = document["builds"][0]["operations"][0]
    first |= {"started": "2026-02-02T07:00:59-05:00", "finished": "2026-02-02T07:30:01-05:00"}
    first |= {"wait_began": "2026-02-02T07:29:59-05:00", "not_before": "2026-02-02T07:00:01-05:00"}
    found = read(document)
    operation = found.builds[0].operations[0]
    eight = read(whole()).now
    assert found.now == eight + 1
    assert (operation.started, operation.finished, operation.wait_began, operation.not_before) == (
        eight - 60,
        eight - 29,
        eight - 31,
        eight - 59,
    )
    assert found.shop.climate.readings[0].at == eight - 60


def test_degrees_become_celsius() -> None:
    document = {**whole(), "temperature_unit": "F"}
    document["shop"]["climate"] = {"day": 68, "night": 50}
    document["products"][0] |= {"rated_at": 70, "doubles_per": 15, "lowest": 50, "dew_gap": 20}
    found = read(document)
    product = found.products[0]
    assert (found.shop.climate.day, found.shop.climate.night, product.lowest) == (20, 10, 10)
    assert product.rated_at == pytest.approx(21.1111111)
    assert (product.doubles_per, product.dew_gap) == (pytest.approx(8.3333333), pytest.approx(11.1111111))


def test_the_defaults_are_those_of_the_format() -> None:
    bare = {
        "benchtide": 1,
        "now": "2026-02-02T08:00:00Z",
        "shop": {"time_zone": "UTC", "hours": DAYTIME, "climate": {"day": 20, "night": 15}},
        "builds": [{"name": "Desk", "operations": [{"key": "a", "kind": "mill", "minutes": 30}]}],
    }
    found = read(bare)
    climate, operation = found.shop.climate, found.builds[0].operations[0]
    assert (climate.day_from, climate.day_to, climate.humidity) == (420, 1320, 50)
    assert (len(found.shop.makers), found.temperature_unit, found.builds[0].weight) == (1, "C", 1)
    assert (operation.makers, operation.count, operation.done, operation.split) == (1, 1, 0, None)
    assert planned(bare).operation("a")["people"] == ["maker 1"]


@pytest.mark.parametrize("seed", range(20))
def test_a_document_that_was_read_can_be_written_and_read_again(seed: int) -> None:
    document = read(invented(seed, pins=True))
    assert read(json.loads(json.dumps(export(document)))) == document


def test_the_whole_document_survives_export_in_both_units() -> None:
    for unit in "CF":
        document = read({**whole(), "temperature_unit": unit})
        assert read(json.loads(json.dumps(export(document)))) == document


def test_times_are_printed_in_the_shops_zone() -> None:
    got = planned(shop(build(op("a", 60)), now="2026-03-09T12:00:00+00:00"))
    assert got.operation("a")["start"] == "2026-03-09T08:00:00-04:00"
    assert got.plan["now"] == "2026-03-09T08:00:00-04:00"


def test_the_same_document_gives_the_same_plan() -> None:
    text = json.dumps(invented(5))
    assert answer(text) == answer(text)


def test_the_schema_can_be_handed_out_as_json() -> None:
    assert json.loads(json.dumps(SCHEMA)) == SCHEMA


def test_what_is_refused_knows_its_faults() -> None:
    with pytest.raises(Refused) as caught:
        read({})
    assert [fault.path for fault in caught.value.faults] == [("benchtide",), ("now",), ("shop",)]
