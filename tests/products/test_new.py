"""A new product, with every figure of its label."""

import pytest
from flask.testing import FlaskClient
from jsonschema import Draft202012Validator
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from tests.products.typed import product, varnish
from webapp.planning.schema import PRODUCT
from webapp.products.document import product_mapping
from webapp.products.models import Product
from webapp.shops.models import Shop


def count(db: Session) -> int:
    db.rollback()  # a new look
    return db.scalar(select(func.count()).select_from(Product)) or 0


def only(db: Session) -> Product:
    db.rollback()  # a new look
    return db.scalars(select(Product)).one()


def test_the_blank_form_asks_for_the_shops_degrees(owner: FlaskClient) -> None:
    page = owner.get("/products/new").text
    assert "All in °F" in page
    assert 'value="70"' in page


def test_a_family_fills_the_form(owner: FlaskClient) -> None:
    page = owner.get("/products/new?family=wiping+varnish").text
    assert 'value="dust free"' in page
    assert "popularwoodworking.com" in page


def test_a_glue_is_kept_in_celsius_as_the_document_has_it(owner: FlaskClient, db: Session) -> None:
    """TA01: clamps and strength double for each 15 °F under 70 °F; a rest that does not follow the cold."""
    answer = owner.post("/products/new", data=product())
    found = only(db)
    assert answer.location == f"/products/{found.id}"
    data = found.current.data
    assert (data["rated_at"], data["doubles_per"], data["lowest"]) == (21.1111, 8.3333, 10)
    assert data["stages"] == [
        {"name": "out of clamps", "hours": 1},
        {"name": "ready to plane", "hours": 168, "doubles_per": None},
    ]
    assert data["tend"] == [{"key": "scrape", "at_minutes": 30, "within_minutes": 30, "minutes": 10}]
    assert data["open_minutes"] == 10
    assert (found.current.number, found.current.source) == (1, "the label")
    assert not list(Draft202012Validator(PRODUCT).iter_errors(product_mapping("glue", found.current)))


def test_windows_with_a_hole_between_them(owner: FlaskClient, db: Session) -> None:
    """TA05: within 2 h, else from 72 h after sanding."""
    owner.post("/products/new", data=varnish())
    data = only(db).current.data
    assert data["recoat"] == [{"from_hours": 0, "to_hours": 2}, {"from_hours": 72, "needs": ["sand"]}]
    assert data["dust_free"] == "dust free"


def test_a_wait_over_another_family(owner: FlaskClient, db: Session) -> None:
    """TA06: the wait belongs to the pair of layers."""
    owner.post("/products/new", data=product(name="oil", family="oil", use="finish"))
    over = {"over_0_layer": "oil", "over_0_from": "14 days", "over_1_layer": "oil", "over_1_from": "30 days"}
    refused = owner.post("/products/new", data=varnish(**over))
    assert refused.status_code == 422
    assert "begins before the one above it ends" in refused.text
    owner.post("/products/new", data=varnish(over_0_layer="oil", over_0_from="14 days"))
    db.rollback()
    found = db.scalars(select(Product).where(Product.name == "varnish")).one()
    assert found.current.data["recoat_over"] == {"oil": [{"from_hours": 336}]}


@pytest.mark.parametrize(
    ("values", "field", "says"),
    [
        ({"name": ""}, "name", "What do you call it?"),
        ({"source": ""}, "source", "Say where they come from."),
        ({"source_on": ""}, "source_on", "When did you read them there?"),
        ({"stage_0_hours": "inf"}, "stage_0_hours", "Type hours"),
        ({"stage_0_hours": "NaN"}, "stage_0_hours", "Type hours"),
        ({"stage_0_hours": ""}, "stage_0_hours", "the name and the hours"),
        ({"stage_0_name": ""}, "stage_0_name", "the name and the hours"),
        ({"stage_1_name": "out of clamps"}, "stage_1_name", "another stage"),
        ({"stage_0_hours": "200000"}, "stage_0_hours", "eleven years"),
        ({"stage_1_per": "15"}, "stage_1_per", "Either no known rule"),
        ({"dust_free": "dry"}, "dust_free", "There is no stage “dry”"),
        ({"dust_free": "dry", "stage_0_name": ""}, "dust_free", "The stages are ready to plane"),
        ({"rated_at": ""}, "rated_at", "which temperature the times are for"),
        ({"doubles_per": "0"}, "doubles_per", "More than 0"),
        ({"lowest": "80"}, "lowest", "cannot be above"),
        ({"open_minutes": "0"}, "open_minutes", "At least 1 min"),
        ({"tend_0_minutes": ""}, "tend_0_minutes", "how long it takes"),
        ({"tend_0_minutes": "0"}, "tend_0_minutes", "At least 1 min"),
        ({"recoat_0_from": "5", "recoat_0_to": "2"}, "recoat_0_to", "ends before it begins"),
        ({"recoat_0_from": "5", "recoat_1_from": "2"}, "recoat_1_from", "Put them in order"),
        ({"over_0_layer": "moonshine", "over_0_from": "2"}, "over_0_layer", "no product or family “moonshine”"),
        ({"over_0_layer": "", "over_0_from": "2"}, "over_0_layer", "Say over what"),
        ({"missed_needs": "pray"}, "missed_needs", "alid choice"),
        ({"humidity_max": "120"}, "humidity_max", "100 %"),
    ],
)
def test_what_cannot_be_is_said_beside_its_field(
    owner: FlaskClient, db: Session, values: dict[str, str], field: str, says: str
) -> None:
    answer = owner.post("/products/new", data=product(why="keep me", **values))
    assert answer.status_code == 422
    assert says in answer.text.split(f'id="{field}-wrong"')[1].split("</p>")[0]
    assert 'value="keep me"' in answer.text
    assert count(db) == 0


def test_two_of_one_name_are_refused(owner: FlaskClient, db: Session) -> None:
    owner.post("/products/new", data=product())
    answer = owner.post("/products/new", data=product(source="another"))
    assert answer.status_code == 422
    assert "another product of this name" in answer.text
    assert count(db) == 1


def test_a_helper_may_not(helper: FlaskClient, db: Session) -> None:
    assert helper.get("/products/new").status_code == 403
    assert helper.post("/products/new", data=product()).status_code == 403
    assert count(db) == 0


def test_another_shops_names_are_free(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    owner.post("/products/new", data=product())
    assert stranger.post("/products/new", data=product()).status_code == 303
    assert count(db) == 2


def test_sent_twice_is_one_product(owner: FlaskClient, db: Session) -> None:
    """SA15: the same form twice is one row and the same answer."""
    first, second = (owner.post("/products/new", data=product(once="key-1")) for _ in range(2))
    assert (first.status_code, second.status_code) == (303, 303)
    assert first.location == second.location
    assert count(db) == 1
