"""Two builds side by side."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests.lookback.conftest import delivered
from webapp.builds.models import Build
from webapp.shops.models import Shop


def test_two_builds_lie_side_by_side(owner: FlaskClient, past: Build, db: Session, shop: Shop) -> None:
    other = delivered(db, shop, "Chair", minutes=60, hours=2)
    page = " ".join(owner.get(f"/lookback/compare?build={past.id}&build={other.id}").text.split())
    assert '<th scope="row">shape</th><td class="n">3:00</td><td class="n">2:00</td>' in page


@pytest.mark.parametrize("query", ["", "?build=1", "?build=x&build=y", "?build=1&build=2&build=3"])
def test_any_other_number_is_told_to_tick_two(owner: FlaskClient, query: str) -> None:
    answer = owner.get(f"/lookback/compare{query}")
    assert answer.status_code == 200
    assert "Tick two builds" in answer.text


def test_a_strangers_build_cannot_be_laid_beside(stranger: FlaskClient, past: Build) -> None:
    assert stranger.get(f"/lookback/compare?build={past.id}&build={past.id}").status_code == 404
