"""Wood by the bill and by its sizes, as they go through the form."""

from decimal import Decimal

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests.stock.typed import line
from webapp.stock.models import Material


@pytest.mark.parametrize(
    ("thickness", "width", "length", "exact", "tally"),
    [
        ("2", "6 1/4", "8'", "8.33", "8"),  # surface 4.17, counted as 4
        ("8/4", "6-1/4", "8 ft", "8.33", "8"),
        ("1", "5 1/4", "8 1/2 ft", "3.72", "4"),  # the length drops to 8 ft: 3.5, and a half goes up
        ("3/4", "6 1/4", "8'", "3.13", "4"),  # under 1 in counts as 1 in
    ],
)
def test_the_bill_is_what_counts(
    owner: FlaskClient, db: Session, thickness: str, width: str, length: str, exact: str, tally: str
) -> None:
    """TA23: the quantity on the bill wins, the computed ones stand beside it; source: americanhardwood.org."""
    sizes = {"pieces": "1", "thickness": thickness, "width": width, "length": length}
    assert owner.post("/stock/new", data=line(quantity="8.5", unit_price="10", **sizes)).status_code == 303
    db.rollback()
    found = db.scalars(select(Material)).one()
    assert (found.quantity, found.total_minor) == (Decimal("8.5"), 8500)
    page = owner.get("/stock").text
    assert "8.5 bd ft at $10.00" in page
    assert f"by its sizes {exact} bd ft, by the yard&#39;s tally {tally} bd ft" in page
