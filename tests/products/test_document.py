"""A product in the shop document."""

from sqlalchemy.orm import Session

from tests import factories
from webapp.products.document import product_mapping
from webapp.shops.models import Shop


def test_what_is_not_in_the_document_is_not_referred_to(db: Session, shop: Shop) -> None:
    over = {"oil": [{"from_hours": 72}], "stain": [{"from_hours": 24}]}
    figures = factories.product(db, shop, "varnish", lowest=None, recoat_over=over).current
    found = product_mapping("varnish (figures 1)", figures, known={"varnish", "oil"})
    assert found["name"] == "varnish (figures 1)"
    assert found["family"] == "varnish"
    assert found["recoat_over"] == {"oil": [{"from_hours": 72}]}
    assert "lowest" not in found
    assert product_mapping("varnish", figures)["recoat_over"] == over
