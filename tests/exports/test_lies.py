"""Files of the right form that say what cannot be: the first fault is told with its place before anything is stored."""

import html
import json
import random
import re
from collections.abc import Iterator
from copy import deepcopy
from typing import Any

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.exports.sample import ONE_DATABASE, PIECE, Sample, put
from tests.exports.test_imports import bare
from webapp.exports.checking import check
from webapp.exports.reading import RefusedError
from webapp.exports.sense import check_sense
from webapp.exports.taking_out import File
from webapp.shops.models import Shop

GONE = object()
AT = "2026-02-02T00:00:00Z"
BILL = {"name": "ash", "kind": "wood", "quantity": "1", "unit_price": "1", "total_minor": 1}
PHOTO = {"number": 1, "sent_name": "a", "width": 1, "height": 1, "version": 1, "at": AT}
MONDAY = {"weekday": 0, "opens": 5, "closes": 9}
# what is put where in the file of a piece whose first operations are again, glue and coat, and what is said of it; with
# the place that is told, where that is another
GLUE, LINE, FIGURES = "builds[0].operations[1]", "builds[0].journal[0]", "products[0].figures[0]"
LIES: tuple[tuple[str, Any, str, str], ...] = (
    (f"{GLUE}.minutes", "soon", "", "“soon” is not a whole number"),
    (f"{GLUE}.minutes", True, "", "True is not a whole number"),
    (f"{GLUE}.minutes", 0, "", "0 is not from 1 to"),
    (f"{GLUE}.minutes", GONE, "", "is missing"),
    (f"{GLUE}.low", 10_000, "", "at best"),
    (f"{GLUE}.room", "Attic", "", "there is no room “Attic” in the file"),
    (f"{GLUE}.room", 7, "", "7 is not a text"),
    (f"{GLUE}.room_id", 1, "", "this key is not known"),
    (f"{GLUE}.product", {"id": 1}, "", "this is not a text"),
    (f"{GLUE}.over", "elsewhere", "", "there is no operation “elsewhere”"),
    (f"{GLUE}.over", "coat", f"{GLUE}.after", "That is a circle"),
    ("builds[0].operations[2].key", "glue", "", "this stands here twice"),
    (f"{GLUE}.stages", [{"name": "a", "hours": -1}], f"{GLUE}.stages[0].hours", "-1 is less than"),
    (f"{GLUE}.tend", [{"key": "a", "at_minutes": 1}], f"{GLUE}.tend[0]", "'minutes' is a required"),
    (f"{GLUE}.holds[0].count", 99_999_999_999, "", "99999999999 is too large"),
    (f"{GLUE}.pinned_at", "2026-02-02", "", "“2026-02-02” is not a moment"),
    (f"{GLUE}.pinned_at", "9999-12-31T23:59:59-12:00", "", "9999 cannot be right"),
    (f"{GLUE}.not_before", "0001-01-01T00:00:00+14:00", "", "1 cannot be right"),
    ("builds[0].name", "\x00\u202e", "", "this is empty"),
    ("builds[0].name", "x" * 201, "", "this is longer than 200"),
    ("builds[0].note", "x" * 20_001, "", "this is longer than 20,000"),
    ("builds[0].status", "done", "", "“done” is not known here; it is one of enquiry"),
    ("builds[0].due_on", "2026-02-30", "", "“2026-02-30” is not a day"),
    ("builds[0].shop", 1, "", "this key is not known"),
    ("builds[0].done_at", [{"operation": "x", "stage": "y"}], "builds[0].done_at[0].operation", "there is no such"),
    ("builds[0].done_at[0].id", 1, "builds[0].done_at[0]", "Additional properties"),
    ("builds[0].terms", [], "", "this is not an object"),
    ("builds[0].payments[0].percent", 40, "", "40 is not a number in quotes"),
    ("builds[0].payments[0].percent", "1e9", "", "“1e9” is not a number in quotes"),
    ("builds[0].payments[0].amount_minor", 9 * 10**15, "", "9000000000000000 is not from"),
    ("builds[0].materials", [{**BILL, "width_typed": "=1"}], "builds[0].materials[0].width_typed", "“=1” is no length"),
    ("builds[0].materials", [{**BILL, "receipt": 9}], "builds[0].materials[0].receipt", "there is no photo 9"),
    ("builds[0].photos", [{**PHOTO, "number": 2}], "builds[0].photos[0].number", "2 does not count on"),
    ("builds[0].photos", [{**PHOTO, "picture": "../secret"}], "builds[0].photos[0].picture", "this is no SHA-256"),
    (f"{LINE}.key", "entry-1", "", "“entry-1” is not the key of a line"),
    ("builds[0].journal[2].key", "2", "builds[0].journal[7].key", "this stands here twice"),
    (f"{LINE}.corrects", "photo-0", "", "“photo-0” is not the key"),
    (f"{LINE}.kind", GONE, "", "is missing"),
    (f"{LINE}.kind", "exploded", LINE, '"exploded" is not a kind of entry'),
    (f"{LINE}.kind", "worked", LINE, "say how long it took"),
    (f"{LINE}.data", [1], "", "this is not an object"),
    (f"{LINE}.data", {"figures": 1}, f"{LINE}.data.figures", "1 is not an object"),
    (f"{LINE}.data", {"figures": {"product": "House glue", "number": 9}}, f"{LINE}.data.figures", "there are no such"),
    (f"{LINE}.data", {"photo": 1}, f"{LINE}.data.photo", "there is no photo 1"),
    (f"{LINE}.data", {"minutes": 2**64}, f"{LINE}.data.minutes", "this number is too large"),
    (f"{FIGURES}.data.stages", [{"name": "a", "hours": "x"}], f"{FIGURES}.data.stages[0].hours", "'x' is not of type"),
    (f"{FIGURES}.data", {"doubles_per": 8}, "", "'rated_at' is a required"),
    (f"{FIGURES}.data.recoat", [{"from_hours": 5, "to_hours": 1}], "", "a window ends before it begins"),
    (f"{FIGURES}.data.dust_free", "never", "", "no stage of this product"),
    ("products[0].figures[1].number", 1, "", "this stands here twice"),
    ("products[0].use", "weapon", "", "“weapon” is not known here; it is one of glue, finish"),
    ("makers[0].role", "owner", "", "this key is not known"),
    ("makers[0].person", 1, "", "this key is not known"),
    ("makers[0].hours", [{**MONDAY, "closes": 5}], "makers[0].hours[0].closes", "it closes before it opens"),
    ("makers[0].hours", [MONDAY, {**MONDAY, "opens": 8}], "makers[0].hours[1]", "these hours overlap"),
    ("makers[0].rates[0].hour_minor", -1, "", "-1 is not from 0"),
    ("makers", [{"name": f"m{number}"} for number in range(201)], "", "there is no maker"),
    ("rooms[0].climate_day", 1e12, "", "1000000000000.0 is not from -60 to 300"),
    ("equipment[0].name", "x" * 201, "", "this is longer than 200 characters"),
    ("shop", {}, "", "this key is not known"),
    ("currency", "XXX", "", "“XXX” is not known here"),
)


def put_at(file: Any, path: str, value: Any) -> None:
    *way, last = [int(number) if number else word for word, number in re.findall(r"([a-z_]+)|\[(\d+)\]", path)]
    for key in way:
        file = file[key]
    if value is GONE:
        del file[last]
    else:
        file[last] = value


@pytest.mark.parametrize(("path", "value", "place", "says"), LIES, ids=range(len(LIES)))
def test_the_first_fault_is_told_with_its_place(path: str, value: Any, place: str, says: str, sample: Sample) -> None:
    file = bare(sample.piece)
    put_at(file, path, value)
    with pytest.raises(RefusedError) as refused:
        check_sense(check(json.dumps(file).encode()))
    told = str(refused.value)
    assert says in told
    assert path == "makers" or told.startswith(f"{place or path}: ")
    assert len(told) < 400


def test_a_product_without_figures_is_none(sample: Sample) -> None:
    file = bare(sample.piece)
    file["products"].append({"name": "a", "family": "pva", "use": "glue"})
    assert refusal(file).startswith(f"products[{len(file['products']) - 1}].figures: are missing: ")


@ONE_DATABASE
def test_a_fault_is_told_on_the_page(sample: Sample, owner: FlaskClient, db: Session, shop: Shop) -> None:
    file = bare(sample.piece)
    put_at(file, f"{GLUE}.minutes", "<script>")
    answer = put(owner, file)
    assert answer.status_code == 422
    assert f"{GLUE}.minutes: “<script>” is not a whole number." in html.unescape(answer.text)
    assert "<script>" not in answer.text.replace("<script type", "")


WRONG = (
    *(None, True, -1, 0, 2**31, 2**70, 1.5, "", "x", "=1", "\x00", "2026-02-02", "1", [], [[]], {}, {"a": 1}),
    *("\u202e", "é" * 300),
)


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every place in a file but the document, which is not read."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        if (*path, key) != ("document",):
            yield (*path, key)
            yield from places(item, (*path, key))


def changed(file: File, chance: random.Random, where: list[tuple[Any, ...]]) -> File:
    found = deepcopy(file)
    path = chance.choice(where)
    at: Any = found
    for key in path[:-1]:
        at = at[key]
    if chance.random() < 0.3:
        del at[path[-1]]
    else:
        at[path[-1]] = chance.choice(WRONG)
    return found


def refusal(file: File) -> str:
    try:
        check_sense(check(json.dumps(file).encode()))
    except RefusedError as refused:
        return str(refused)
    return ""


def test_whatever_is_changed_it_is_refused_or_it_stands(
    sample: Sample, owner: FlaskClient, db: Session, shop: Shop
) -> None:
    """Four hundred files with one wrong thing each. Of those that pass, some are put in and looked at."""
    shop.currency = "EUR"
    db.commit()
    chance, file = random.Random(17), bare(sample.piece)
    where = list(places(file))
    files = [changed(file, chance, where) for _ in range(400)]
    told = [(one, refusal(one)) for one in files]
    assert [says for _, says in told if says and not re.match(r"[a-z_]+(\[\d+\])?[.:\[]|Th", says)] == []
    taken = [one for one, says in told if not says]
    assert 40 < len(taken) < 360
    statuses = set()
    for number, one in enumerate(chance.sample(taken, 12)):
        answer = put(owner, one, once=str(number))
        statuses.add(answer.status_code)
        if answer.status_code == 303:
            assert owner.get(answer.location).status_code == 200
    assert statuses <= {303, 422}
    for address in ("/", "/days", "/builds", "/journal", "/costs", "/exports/shop.json", "/exports/costs.csv"):
        assert owner.get(address).status_code == 200
    assert PIECE in html.unescape(owner.get("/builds").text)
