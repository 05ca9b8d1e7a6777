"""Every field for money or numbers, and what people type into them."""

from collections.abc import Callable
from typing import NamedTuple

import pytest
from flask.testing import FlaskClient
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests import factories
from tests.costs.rows import terms
from tests.stock.typed import line
from webapp.costs.models import Payment, Terms
from webapp.db.base import Base
from webapp.shops.models import Rate, Shop
from webapp.stock.models import Material

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # the forms read alike on both

REFUSED = ["1.234,56", "1e3", "1E-2", "NaN", "Infinity", "-inf", "-0", "-1", "１２", "1٫5", "1,234", "0x10", "1_000"]


class Place(NamedTuple):
    """A field of a form: what is posted with it, where, and what is kept of it."""

    path: str
    table: type[Base]
    data: Callable[[str], dict[str, str]]
    field: str


def payment(typed: str) -> dict[str, str]:
    return {"version": "1", "part_0_name": "all of it", "part_0_percent": typed}


PLACES = {
    "quantity": Place("/stock/new", Material, lambda typed: line(quantity=typed), "quantity"),
    "price for one": Place("/stock/new", Material, lambda typed: line(unit_price=typed), "unit_price"),
    "price": Place("/builds/{b}/terms/edit", Terms, lambda typed: {"price_minor": typed}, "price_minor"),
    "percent": Place("/builds/{b}/terms/edit", Terms, lambda t: {"consumables_percent": t}, "consumables_percent"),
    "sum": Place("/builds/{b}/terms/edit", Terms, lambda typed: {"consumables_minor": typed}, "consumables_minor"),
    "share": Place("/builds/{b}/payments/edit", Payment, payment, "part_0_percent"),
    "rate": Place("/shop/makers/{m}/rates", Rate, lambda t: {"hour": t, "from_on": "2026-02-03"}, "hour"),
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("typed", REFUSED)
def test_what_is_no_clear_number_is_refused_and_stays(
    owner: FlaskClient, db: Session, shop: Shop, place: str, typed: str
) -> None:
    """SA07: a clear message beside the field, what was typed still there, nothing stored."""
    path, table, data, field = PLACES[place]
    build = factories.build(db, shop)
    if table is Payment:
        terms(db, build)
    answer = owner.post(path.format(b=build.id, m=factories.maker(db, shop, "Ada").id), data=data(typed))
    db.rollback()
    assert answer.status_code == 422
    assert f'id="{field}-wrong"' in answer.text
    assert f'value="{typed}"' in answer.text
    assert db.scalar(select(func.count()).select_from(table)) == 0


def test_a_comma_is_taken_where_it_can_only_be_a_decimal_mark(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA07: 1,25 in each of the fields is 1.25."""
    build = factories.build(db, shop)
    owner.post("/stock/new", data=line(quantity="1,25", unit_price="1,25"))
    owner.post(f"/builds/{build.id}/terms/edit", data={"price_minor": "1,25", "consumables_percent": "1,25"})
    db.rollback()
    material, found = db.scalars(select(Material)).one(), db.scalars(select(Terms)).one()
    assert (float(material.quantity), float(material.unit_price), material.total_minor) == (1.25, 1.25, 156)
    assert (found.price_minor, float(found.consumables_percent or 0)) == (125, 1.25)
