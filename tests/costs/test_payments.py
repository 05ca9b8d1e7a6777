"""The parts a price is paid in."""

from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import parts_of, terms
from webapp.builds.models import Build
from webapp.shops.models import Shop

NAMES = ("signing", "drawings approved", "three quarters done", "completion")


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def four(version: int = 1, shares: tuple[str, ...] = ("10", "40", "25", "25")) -> dict[str, str]:
    data = {"version": str(version)}
    for number, (name, share) in enumerate(zip(NAMES, shares, strict=False)):
        data |= {f"part_{number}_name": name, f"part_{number}_percent": share}
    return data


@pytest.mark.parametrize(
    ("price", "amounts"),
    [(840000, [84000, 336000, 210000, 210000]), (733333, [73333, 293333, 183333, 183334]), (1, [0, 0, 0, 1])],
)
def test_a_price_is_split_exactly(
    owner: FlaskClient, db: Session, build: Build, price: int, amounts: list[int]
) -> None:
    """TA20: shares and figures of a trade page on staged payments; the last part takes the rounding."""
    terms(db, build, price)
    assert owner.post(f"/builds/{build.id}/payments/edit", data=four()).status_code == 303
    found = parts_of(db, build)
    assert [part.amount_minor for part in found] == amounts
    assert sum(amounts) == price
    assert [part.name for part in found] == list(NAMES)


@pytest.mark.parametrize("shares", [("10", "40", "25", "24"), ("10", "40", "25", "25.01"), ("100", "1")])
def test_shares_that_are_not_the_whole_are_refused(
    owner: FlaskClient, db: Session, build: Build, shares: tuple[str, ...]
) -> None:
    """TA20: 100 % or nothing; what was typed stays."""
    terms(db, build)
    answer = owner.post(f"/builds/{build.id}/payments/edit", data=four(shares=shares))
    assert answer.status_code == 422
    assert "not 100 %" in answer.text
    assert f'value="{shares[-1]}"' in answer.text
    assert parts_of(db, build) == []


def test_a_share_of_spaces_is_no_share(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    sent = {"version": "1", "part_0_name": "all of it", "part_0_percent": "   "}
    answer = owner.post(f"/builds/{build.id}/payments/edit", data=sent)
    assert answer.status_code == 422
    assert "Both, please" in answer.text
    sent = four() | {"part_4_name": " ", "part_4_percent": "\u00a0"}
    assert owner.post(f"/builds/{build.id}/payments/edit", data=sent).status_code == 303


def test_half_a_row_is_asked_for_the_other_half(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    answer = owner.post(f"/builds/{build.id}/payments/edit", data={"version": "1", "part_0_name": "all of it"})
    assert answer.status_code == 422
    assert "Both, please" in answer.text


def test_the_price_comes_first(owner: FlaskClient, db: Session, build: Build) -> None:
    for answer in (
        owner.get(f"/builds/{build.id}/payments/edit"),
        owner.post(f"/builds/{build.id}/payments/edit", data=four()),
    ):
        assert answer.location == f"/builds/{build.id}/terms/edit"
    assert parts_of(db, build) == []


def test_what_came_in_stays_and_the_rest_is_split_anew(owner: FlaskClient, db: Session, build: Build) -> None:
    """TA20: a paid part keeps amount, share and day."""
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    first = parts_of(db, build)[0]
    owner.post(f"/payments/{first.id}/paid", data={"paid_on": "2026-01-30"})
    page = owner.get(f"/builds/{build.id}/payments/edit").text
    assert "signing" in page
    assert 'value="signing"' not in page
    rest = {"version": "2", "part_0_name": "half way", "part_0_percent": "45", "part_1_name": "completion"}
    assert owner.post(f"/builds/{build.id}/payments/edit", data={**rest, "part_1_percent": "45"}).status_code == 303
    found = parts_of(db, build)
    assert [(part.name, part.amount_minor) for part in found] == [
        ("signing", 84000),
        ("half way", 378000),
        ("completion", 378000),
    ]
    assert found[0].paid_on == date(2026, 1, 30)


def test_a_payment_is_taken_back_and_shared_out_again(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    first = parts_of(db, build)[0]
    owner.post(f"/payments/{first.id}/paid", data={"paid_on": "2026-01-30"})
    owner.post(f"/builds/{build.id}/terms/edit", data={"version": "2", "price_minor": "9000"})
    assert sum(part.amount_minor for part in parts_of(db, build)) == 900000
    assert parts_of(db, build)[0].amount_minor == 84000
    owner.post(f"/payments/{first.id}/paid/delete")
    found = parts_of(db, build)
    assert [part.amount_minor for part in found] == [90000, 360000, 225000, 225000]
    assert found[0].paid_on is None


def test_all_parts_can_be_taken_away(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    assert owner.post(f"/builds/{build.id}/payments/edit", data={"version": "2"}).status_code == 303
    assert parts_of(db, build) == []


def test_the_second_of_two_editors_is_told(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA09: the parts were split by somebody else meanwhile."""
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    answer = owner.post(f"/builds/{build.id}/payments/edit", data=four(shares=("20", "30", "25", "25")))
    assert answer.status_code == 409
    assert "<td>10</td><td>20</td>" in answer.text
    assert parts_of(db, build)[0].percent == 10


def test_a_day_that_is_none_is_asked_for(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    part = parts_of(db, build)[0]
    answer = owner.post(f"/payments/{part.id}/paid", data={"paid_on": "soon"})
    assert answer.status_code == 422
    assert "Type a day" in answer.text
    assert parts_of(db, build)[0].paid_on is None


def test_the_sheet_shows_parts_and_what_came_in(owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    part = parts_of(db, build)[0]
    owner.post(f"/payments/{part.id}/paid", data={"paid_on": "2026-02-02"})
    page = owner.get(f"/builds/{build.id}/costs").text
    assert "$840.00 of $8,400.00 came in" in page
    assert "came in Mon 2" in page


def test_a_helper_may_not(helper: FlaskClient, owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    part = parts_of(db, build)[0]
    assert helper.get(f"/builds/{build.id}/payments/edit").status_code == 403
    assert helper.post(f"/builds/{build.id}/payments/edit", data=four()).status_code == 403
    assert helper.post(f"/payments/{part.id}/paid", data={"paid_on": "2026-01-30"}).status_code == 403
    assert helper.post(f"/payments/{part.id}/paid/delete").status_code == 403


def test_a_stranger_finds_nothing(stranger: FlaskClient, owner: FlaskClient, db: Session, build: Build) -> None:
    terms(db, build)
    owner.post(f"/builds/{build.id}/payments/edit", data=four())
    part = parts_of(db, build)[0]
    assert stranger.get(f"/builds/{build.id}/payments/edit").status_code == 404
    assert stranger.post(f"/builds/{build.id}/payments/edit", data=four()).status_code == 404
    assert stranger.post(f"/payments/{part.id}/paid", data={"paid_on": "2026-01-30"}).status_code == 404
    assert stranger.post(f"/payments/{part.id}/paid/delete").status_code == 404
