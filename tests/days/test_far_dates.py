"""Dates far off: taken as far as the plan can say them, refused beyond."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.shops.models import Shop

PAGES = ("/", "/builds", "/builds/1", "/days?days=28", "/journal", "/costs", "/lookback")


@pytest.mark.parametrize("day", ["0001-01-01", "1989-12-31", "2151-01-01", "2200-12-31", "9999-12-31", "99999-01-01"])
def test_a_year_that_cannot_be_right_is_refused(owner: FlaskClient, db: Session, shop: Shop, day: str) -> None:
    build = factories.build(db, shop)
    one = factories.operation(db, build)
    answer = owner.post(f"/builds/{build.id}/edit", data=typed.build(version="1", due_on=day))
    assert answer.status_code == 422
    for field in ("pinned_on", "pinned_at", "not_before"):
        text = day if field == "pinned_on" else f"{day}T23:59"
        assert (
            owner.post(f"/operations/{one.id}/edit", data=typed.operation(version="1", **{field: text})).status_code
            == 422
        )
    assert owner.get("/days").status_code == 200


@pytest.mark.parametrize("day", ["1990-01-01", "2150-12-31"])
def test_the_last_years_that_are_taken_break_no_page(owner: FlaskClient, db: Session, shop: Shop, day: str) -> None:
    build = factories.build(db, shop)
    one = factories.operation(db, build)
    two = factories.operation(db, build, "cut")
    assert owner.post(f"/builds/{build.id}/edit", data=typed.build(version="1", due_on=day)).status_code == 303
    for row, field in ((one, "pinned_at"), (two, "not_before")):
        address = f"/operations/{row.id}/edit"
        sent = typed.version(owner, address) | {field: f"{day}T23:59"}
        assert owner.post(address, data=sent).status_code == 303
    assert owner.post("/shop/closed", data={"first_on": day, "last_on": day}).status_code == 303
    assert [owner.get(page).status_code for page in PAGES] == [200] * len(PAGES)
