"""Readings of one thing, oldest to newest, and what they answer: GET /stock/1/moisture, /parts/1/moisture."""

from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.moisture.typed import part, stock
from tests.stock.typed import material
from webapp.moisture.subjects import MOST
from webapp.shops.models import Shop


def test_may_i_mill(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA12: 12.0, 10.6 and 9.9 % on days 0, 5 and 9 against stock at 8 %: no, no (2.6 over), yes (1.9 over)."""
    stock(db, shop, START)
    address = f"/stock/{material(db, shop).id}/moisture"
    said = {}
    for days, reading in ((0, "12.0"), (5, "10.6"), (4, "9.9")):
        clock.forward(days=days)
        assert owner.post(address, data={"reading": reading}).status_code == 303
        said[reading] = owner.get(address).text
    assert "<b>No.</b> 12 % is 4 points over the shop&#39;s 8 %: wait until it reads 10 % or less." in said["12.0"]
    assert "Read it again on Sat 7." in said["12.0"]  # nothing is known of its pace: 4 days
    assert "<b>No.</b> 10.6 % is 2.6 points over" in said["10.6"]
    assert "Read it again on Wed 11." in said["10.6"]  # 0.28 points a day, 0.6 lack: 3 days after Sun 8
    assert "<b>Yes.</b> 9.9 % is 1.9 points over the shop&#39;s 8 %: near enough to mill." in said["9.9"]
    assert "<svg" in said["9.9"]
    assert said["9.9"].count("<circle") == 3


def test_resawing_too_early_is_warned_of(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    """TA12: on day 5 the skin may be near 8 %, the core still near 12 %: the halves would cup."""
    stock(db, shop, START)
    address = f"/stock/{material(db, shop).id}/moisture"
    for days, reading in ((0, "12.0"), (5, "10.6")):
        clock.forward(days=days)
        owner.post(address, data={"reading": reading})
    page = owner.get(address).text
    assert "Do not resaw yet." in page
    assert "The skin may be near 8 % and the core still near 12 %" in page
    clock.forward(days=4)
    owner.post(address, data={"reading": "9.9"})
    assert "resaw" not in owner.get(address).text


def test_without_a_reading_of_the_stock_nothing_is_answered(owner: FlaskClient, db: Session, shop: Shop) -> None:
    address = f"/parts/{part(db, factories.build(db, shop)).id}/moisture"
    assert "Not read yet." in owner.get(address).text
    owner.post(address, data={"reading": "12"})
    page = owner.get(address).text
    assert "May I mill?" not in page
    assert "shop’s own stock</a> too" in page
    assert "2 points over 6 to 10 %" in page  # indoors, most of the United States


def test_after_years_the_newest_are_shown_and_count(owner: FlaskClient, db: Session, shop: Shop) -> None:
    rows = [stock(db, shop, START - timedelta(days=60 - number), 8 + number / 10, number) for number in range(1, 61)]
    page = owner.get("/moisture/stock").text
    assert page.count("<circle") == page.count(">Put right</a>") == MOST
    assert "14 %" in page
    assert "<b>14 %</b>" in owner.get("/moisture").text
    for number in (60, 60 - MOST + 1):
        owner.post(f"/moisture/stock/{number}/delete")
    owner.post("/moisture/stock/59", data={"reading": "7", "version": rows[-2].version})
    page = owner.get("/moisture/stock").text
    assert page.count("<circle") == page.count(">Put right</a>") == MOST - 2
    assert page.count("taken back") == 2
    assert "<b>7 %</b>" in owner.get("/moisture").text


def test_the_list_says_which_of_how_many_it_shows_and_leads_to_older_ones(
    helper: FlaskClient, db: Session, shop: Shop
) -> None:
    """TA12: of 83 readings the newest 50, the other 33 on the next page; what they answer stays that of the newest."""
    for number in range(1, 84):
        stock(db, shop, START - timedelta(days=84 - number), 8 + number / 100, number)
    first = helper.get("/moisture/stock").text
    assert "<small>the newest 50 of 83</small>" in first
    assert 'rel="next" href="/moisture/stock?page=2"' in first
    second = helper.get("/moisture/stock?page=2").text
    assert "<small>51 to 83 of 83, newest first</small>" in second
    assert second.count(">Put right</a>") == 33
    assert 'rel="next"' not in second
    assert 'rel="prev"' in second
    assert second.count("<circle") == MOST
    assert "There are none so old." in helper.get("/moisture/stock?page=3").text


def test_a_short_list_says_nothing_of_pages(owner: FlaskClient, db: Session, shop: Shop) -> None:
    stock(db, shop, START)
    page = owner.get("/moisture/stock").text
    assert "newest" not in page
    assert "paging" not in page


def test_a_stranger_finds_no_such_boards(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    row = part(db, factories.build(db, shop))
    for address in (f"/stock/{material(db, shop).id}/moisture", f"/parts/{row.id}/moisture"):
        assert stranger.get(address).status_code == 404
        assert stranger.post(address, data={"reading": "12"}).status_code == 404
