"""Tables of costs and hours, as a spreadsheet gets them."""

import csv
import io
from datetime import date
from decimal import Decimal

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.costs.rows import bill, rate, terms, worked
from tests.exports.sample import ONE_DATABASE, got
from webapp.builds.models import Build
from webapp.costs.actions import cost_sheet
from webapp.costs.models import Payment
from webapp.exports.cells import BOM, plain
from webapp.shops.models import HELPER, Shop
from webapp.stock.models import Material

FORMULA = '=HYPERLINK("http://a.example";"-1")\n@b'


def rows(client: FlaskClient, address: str) -> list[dict[str, str]]:
    """The table as the csv module reads it, its texts led back."""
    text = got(client, address).decode()
    assert text.startswith(BOM)
    found = csv.DictReader(io.StringIO(text[1:], newline=""), strict=True)
    return [{key: plain(value) for key, value in row.items()} for row in found]


@pytest.fixture
def build(db: Session, shop: Shop, owner: FlaskClient) -> Build:
    """A piece with everything that costs; its names try to run."""
    build = factories.build(db, shop, FORMULA)
    ada, ben = factories.maker(db, shop, "Ada"), factories.maker(db, shop, "Ben", HELPER)
    factories.operation(db, build, "mill", name="+1/8")
    rate(db, ada, 3000)
    worked(db, build, ada, 100)
    worked(db, build, ben, 30, day=3)
    bill(db, build, 12_345)
    terms(db, build, consumables_percent=Decimal(10))
    db.add(Payment(shop_id=shop.id, build_id=build.id, position=0, name="1/8", percent=Decimal("12.5"),
                   amount_minor=-1250, paid_on=date(2026, 2, 2)))  # fmt: skip
    db.commit()
    return build


def test_costs_add_up_to_the_cost_sheet(owner: FlaskClient, build: Build, db: Session, clock: Clock) -> None:
    found = rows(owner, f"/builds/{build.id}/exports/costs.csv")
    costs = [row for row in found if row["What"] in ("material", "labour", "consumables")]
    assert sum(Decimal(row["Amount"]) for row in costs) * 100 == cost_sheet(db, build, clock()).total_minor
    assert [row["What"] for row in found] == ["material", "labour", "labour", "consumables", "payment"]
    labour = next(row for row in found if row["What"] == "labour")
    assert (labour["Day"], labour["Name"], labour["Quantity"], labour["Price for one"], labour["Amount"]) == (
        *("2026-02-02", "Ada"),
        *("1.6667", "30.00", "50.00"),
    )


def test_sa17_what_makers_typed_comes_back(owner: FlaskClient, build: Build) -> None:
    """SA17: formulas, fractions, quotes and line breaks in names; a credit of -12.50 stays a number."""
    raw = got(owner, f"/builds/{build.id}/exports/costs.csv").decode()
    assert ",-12.50," in raw
    assert '"\'1/8"' in raw
    assert '"=' not in raw
    found = rows(owner, f"/builds/{build.id}/exports/costs.csv")
    assert {row["Build"] for row in found} == {FORMULA}
    assert found[-1]["Name"] == "1/8"
    assert rows(owner, f"/builds/{build.id}/exports/hours.csv")[0]["Operation"] == "+1/8"


@ONE_DATABASE
def test_all_costs_have_what_lies_on_the_shelf_too(owner: FlaskClient, build: Build, db: Session, shop: Shop) -> None:
    other = factories.build(db, shop, "Tray")
    bill(db, other, 500)
    amounts = {"quantity": Decimal(1), "unit": "pcs", "unit_price": Decimal(2), "total_minor": 200}
    db.add(Material(shop_id=shop.id, kind="other", name="rags", **amounts, bought_on=date(2026, 2, 1)))
    db.commit()
    found = rows(owner, "/exports/costs.csv")
    assert [row["Name"] for row in found if row["Build"] == ""] == ["rags"]
    assert {row["Build"] for row in found} == {FORMULA, "Tray", ""}
    assert rows(owner, f"/builds/{other.id}/exports/costs.csv")[0]["Amount"] == "5.00"


def test_hours_say_how_they_are_known(owner: FlaskClient, build: Build, db: Session, shop: Shop, clock: Clock) -> None:
    ada = factories.maker(db, shop, "Ada")
    factories.entry(db, ada, "worked", START, on=build, minutes=45, day="2026-01-30")
    factories.entry(db, ada, "started", START, shop_time="Sharpening")
    clock.forward(hours=20)
    found = rows(owner, "/exports/hours.csv")
    assert [(row["Day"], row["Maker"], row["Minutes"], row["Hours"], row["How"]) for row in found] == [
        ("2026-01-30", "Ada", "45", "0.75", "remembered"),
        ("2026-02-02", "Ada", "100", "1.6667", "clocked"),
        ("2026-02-03", "Ada", "162", "2.7", "still asked: stopped when?"),
        ("2026-02-03", "Ben", "30", "0.5", "clocked"),
    ]
    assert found[2]["For no build"] == "Sharpening"
    assert len(rows(owner, f"/builds/{build.id}/exports/hours.csv")) == 3


def test_a_helper_gets_their_own_hours_and_no_money(helper: FlaskClient, build: Build, owner: FlaskClient) -> None:
    assert [row["Maker"] for row in rows(helper, "/exports/hours.csv")] == ["Ben"]
    assert [row["Maker"] for row in rows(helper, f"/builds/{build.id}/exports/hours.csv")] == ["Ben"]
    assert "/exports/hours.csv" in helper.get("/sign-ins").text
    assert "/exports/hours.csv" not in owner.get("/sign-ins").text
    for address in ("/exports/costs.csv", "/exports/shop.json", f"/builds/{build.id}/exports/costs.csv"):
        assert helper.get(address).status_code == 403


@ONE_DATABASE
def test_a_stranger_gets_nothing_of_it(stranger: FlaskClient, build: Build) -> None:
    for name in ("costs.csv", "hours.csv", "build.json", "build.zip"):
        assert stranger.get(f"/builds/{build.id}/exports/{name}").status_code == 404
    assert rows(stranger, "/exports/hours.csv") == []


@ONE_DATABASE
def test_pages_lead_there(owner: FlaskClient, helper: FlaskClient, build: Build) -> None:
    assert 'href="/exports"' in owner.get("/shop").text
    assert f'href="/builds/{build.id}/exports"' in owner.get(f"/builds/{build.id}").text
    assert "/exports" not in helper.get(f"/builds/{build.id}").text
    page = owner.get(f"/builds/{build.id}/exports").text
    for name in ("build.json", "build.zip", "costs.csv", "hours.csv"):
        assert f"/builds/{build.id}/exports/{name}" in page
    for name in ("shop.json", "shop.zip", "costs.csv", "hours.csv"):
        assert f'"/exports/{name}"' in owner.get("/exports").text


@ONE_DATABASE
def test_files_are_named_in_letters_every_system_takes(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA16: whatever the piece is called."""
    names = {"Étagère": "etagere-", "../../etc/passwd": "etc-passwd-", "كرسي": "", "x" * 200: f"{'x' * 40}-"}
    for name, wanted in names.items():
        build = factories.build(db, shop, name)
        sent = owner.get(f"/builds/{build.id}/exports/build.json").headers["Content-Disposition"]
        assert sent == f"attachment; filename=benchtide-{wanted}build-2026-02-03.json"
