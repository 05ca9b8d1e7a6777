"""How what goes into what fits over the year, below the sizes of a piece."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.journal.steps import queries
from tests.moisture.typed import part, stock
from tests.sizes.test_index import a_size
from webapp.builds.models import Build
from webapp.moisture.models import House
from webapp.shops.models import Shop


@pytest.fixture
def drawer(owner: FlaskClient, db: Session, shop: Shop) -> Build:
    """150 mm of flat-sawn maple in 152 mm, for a house of 6 to 12 %."""
    build = factories.build(db, shop)
    db.add(House(shop_id=shop.id, build_id=build.id, place="own figures", low=6, high=12))
    part(db, build, "Drawer side", wood="sugar maple", cut="flat-sawn")
    a_size(owner, build, name="Opening", target="152 mm")
    a_size(
        owner, build, name="Side, height", target="150 mm", part="drawer side", goes_into="opening",
        fit="drawer in opening",
    )  # fmt: skip
    return build


def test_a_drawer_is_told_how_it_runs_in_both_seasons(
    owner: FlaskClient, db: Session, shop: Shop, drawer: Build
) -> None:
    """TA13: unread it counts as if it had 9 %, the middle; read at 6 % it swells into its opening and stays there."""
    address = f"/builds/{drawer.id}/sizes"
    page = owner.get(address).text
    assert "gap shows, about 3.59 mm of play in the dry season; sticks, about 0.41 mm of play in the damp one." in page
    assert "6 to 12 % moisture" in page
    db.rollback()
    stock(db, shop, START, 6.0)
    page = owner.get(address).text
    says = "runs, 2 mm of play in the dry season; does not go in, about 1.18 mm too big in the damp one."
    assert f'<span class="bad">{says}</span>' in page


def test_nothing_is_made_up_where_wood_or_cut_is_not_said(
    owner: FlaskClient, db: Session, shop: Shop, drawer: Build
) -> None:
    address = f"/builds/{drawer.id}/sizes"
    db.rollback()
    drawer.parts[0].cut = ""
    db.commit()
    page = owner.get(address).text
    assert "Drawer side: Say how it is sawn" in page
    assert "in the dry season" not in page
    db.rollback()
    drawer.parts[0].name = "Rail"  # no part of that name is on the list
    db.commit()
    assert 'id="fits"' not in owner.get(address).text


def test_along_the_grain_it_stays(owner: FlaskClient, db: Session, drawer: Build) -> None:
    db.rollback()
    drawer.parts[0].length_typed, drawer.parts[0].length_nm = "150 mm", 150_000_000
    db.commit()
    assert "stays as it is: it lies along the grain" in owner.get(f"/builds/{drawer.id}/sizes").text


def test_more_pairs_cost_no_more_queries(owner: FlaskClient, drawer: Build, engine: Engine) -> None:
    address = f"/builds/{drawer.id}/sizes"
    before = queries(engine, owner, address)
    for number in range(5):
        a_size(
            owner, drawer, name=f"Side {number}", target="149 mm", part="Drawer side", goes_into="opening",
            fit="drawer in opening",
        )  # fmt: skip
    assert queries(engine, owner, address) == before
