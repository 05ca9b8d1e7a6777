"""The weekly hours of the shop."""

import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop

MORNINGS = {"d0_1_from": "8", "d0_1_to": "12:00", "least_minutes": "0 min"}


def version(page: str) -> str:
    found = re.search(r'name="version" value="(\w+)"', page)
    assert found
    return found[1]


def save(client: FlaskClient, path: str = "/shop/hours", **typed: str):  # type: ignore[no-untyped-def]
    return client.post(path, data={"version": version(client.get(path).text), **typed})


def stored(db: Session, shop: Shop) -> list[tuple[int, int, int]]:
    factories.anew(db)
    return [(row.weekday, row.opens, row.closes) for row in shop.openings]


def test_the_week_stands_in_the_form(owner: FlaskClient) -> None:
    page = owner.get("/shop/hours").text
    assert re.search(r'name="d4_1_to"[^>]*value="17:00"', page)
    assert re.search(r'name="d5_1_from"[^>]*value=""', page)


def test_several_stretches_a_day_are_stored(owner: FlaskClient, db: Session, shop: Shop) -> None:
    answer = save(
        owner,
        **MORNINGS,
        d0_2_from="13",
        d0_2_to="17:30",
        d5_1_from="9.15",
        d5_1_to="12:00",
    )
    assert (answer.status_code, answer.location) == (303, "/shop")
    assert stored(db, shop) == [(0, 480, 720), (0, 780, 1050), (5, 555, 720)]


def test_stretches_may_come_in_any_order_touch_and_reach_midnight(owner: FlaskClient, db: Session, shop: Shop) -> None:
    save(owner, d0_1_from="18", d0_1_to="24:00", d0_2_from="13", d0_2_to="18", d1_1_from="0", d1_1_to="2")
    assert stored(db, shop) == [(0, 780, 1080), (0, 1080, 1440), (1, 0, 120)]


@pytest.mark.parametrize(
    ("typed", "field", "message"),
    [
        ({"d0_1_from": "17", "d0_1_to": "8"}, "d0_1_to", "It closes at 08:00 but opens at 17:00"),
        ({"d0_1_from": "8", "d0_1_to": "8"}, "d0_1_to", "It closes at 08:00 but opens at 08:00"),
        ({"d0_1_from": "8", "d0_1_to": ""}, "d0_1_to", "A stretch needs both"),
        ({"d2_3_from": "", "d2_3_to": "12"}, "d2_3_from", "A stretch needs both"),
        (
            {"d0_1_from": "8", "d0_1_to": "12", "d0_2_from": "11:59", "d0_2_to": "13"},
            "d0_2_from",
            "This overlaps 08:00 to 12:00",
        ),
        ({"d0_1_from": "8", "d0_1_to": "25:00"}, "d0_1_to", "Type a time of day like 8:00"),
        ({"d0_1_from": "8", "d0_1_to": "24:01"}, "d0_1_to", "Type a time of day like 8:00"),
        ({}, "d0_1_from", "Say when it is open"),
        ({"d0_1_from": "8", "d0_1_to": "12", "least_minutes": "9 h"}, "least_minutes", "At most 8 hours"),
    ],
)
def test_what_cannot_be_is_refused_beside_its_field(
    owner: FlaskClient, db: Session, shop: Shop, typed: dict[str, str], field: str, message: str
) -> None:
    page = save(owner, d4_1_from="6:40", d4_1_to="7:10", **typed) if typed else save(owner)
    assert page.status_code == 422
    beside = re.search(rf'id="{field}-wrong">([^<]*)', page.text)
    assert beside
    assert message in beside[1]
    if typed:
        assert 'value="6:40"' in page.text
    assert len(stored(db, shop)) == 5


def test_monday_is_copied_inside_the_form_and_not_yet_saved(owner: FlaskClient, db: Session, shop: Shop) -> None:
    page = save(owner, **MORNINGS, copy="monday")
    assert page.status_code == 200
    for day in range(5):
        assert re.search(rf'name="d{day}_1_to"[^>]*value="12:00"', page.text)
    assert re.search(r'name="d5_1_to"[^>]*value=""', page.text)
    assert stored(db, shop)[0] == (0, 480, 1020)


def test_the_way_on_after_starting_a_shop_is_kept(owner: FlaskClient) -> None:
    page = owner.get("/shop/hours?next=/")
    assert 'action="/shop/hours?next=/"' in page.text
    data = MORNINGS | {"version": version(page.text)}
    assert owner.post("/shop/hours?next=/", data=data).location == "/"
    data["version"] = version(owner.get("/shop/hours").text)
    assert owner.post("/shop/hours?next=//evil.example", data=data).location == "/shop"


def test_the_least_time_before_closing_is_kept(owner: FlaskClient, db: Session, shop: Shop) -> None:
    save(owner, **MORNINGS | {"least_minutes": "45"})
    factories.anew(db)
    assert shop.least_minutes == 45


def test_the_second_of_two_is_told_and_loses_nothing(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: two set the hours at once."""
    old = version(owner.get("/shop/hours").text)
    owner.post("/shop/hours", data=MORNINGS | {"version": old})
    page = owner.post("/shop/hours", data=MORNINGS | {"version": old, "d0_1_to": "11:11"})
    assert page.status_code == 409
    assert 'value="11:11"' in page.text
    assert re.search(r"<td>12:00</td><td>11:11</td>", page.text)
    assert stored(db, shop) == [(0, 480, 720)]


def test_hours_of_a_maker_are_left_alone(owner: FlaskClient, db: Session, shop: Shop) -> None:
    maker = shop.makers[0]
    save(owner, f"/shop/makers/{maker.id}/hours", d3_1_from="13", d3_1_to="17")
    save(owner, **MORNINGS)
    assert stored(db, shop) == [(0, 480, 720)]
    assert [(row.weekday, row.opens) for row in maker.openings] == [(3, 780)]
