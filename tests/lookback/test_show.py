"""One past build, plan against real."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.lookback.conftest import delivered
from webapp.builds.models import Build
from webapp.shops.models import Shop


def test_each_operation_stands_estimated_and_real(owner: FlaskClient, past: Build) -> None:
    page = " ".join(owner.get(f"/builds/{past.id}/lookback").text.split())
    assert '<td class="n">2:00</td> <td class="n">3:00</td> <td class="n">× 1.50</td>' in page


def test_one_build_is_said_to_be_one(owner: FlaskClient, past: Build) -> None:
    """TA28: with one past piece it says so."""
    assert "one build only" in owner.get(f"/builds/{past.id}/lookback").text


def test_the_usual_factor_is_the_median_of_past_builds(
    owner: FlaskClient, past: Build, db: Session, shop: Shop
) -> None:
    """TA28: 1.5, 2.0 and 3.0 have the median 2.0."""
    delivered(db, shop, "Chair", minutes=60, hours=2)
    delivered(db, shop, "Stool", minutes=60, hours=3)
    page = owner.get(f"/builds/{past.id}/lookback").text
    assert "× 2.00 (3 builds)" in page


def test_a_stranger_finds_nothing(stranger: FlaskClient, past: Build) -> None:
    assert stranger.get(f"/builds/{past.id}/lookback").status_code == 404
