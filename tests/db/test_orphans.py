"""What hangs on a piece or a shop goes with it, asked in the same words on both databases."""

import pytest
from sqlalchemy import delete, func, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from tests import factories
from tests.faults.checks import orphans
from tests.years import lay_down
from tests.years_piece import Size
from webapp.builds.models import Build
from webapp.db.receipt import Receipt
from webapp.shops.models import Shop
from webapp.tables import metadata

OF_A_PIECE = {"build", "operation", "link", "hold", "part", "entry", "photo", "terms", "payment", "material"}
OF_NO_SHOP = {"mark", "person", "sign_in", "login_try", "backup"}


@pytest.fixture
def shop(db: Session) -> Shop:
    """A shop with a row in nearly every table, beside another."""
    found = lay_down(db, Size(builds=40, steps=20, photos=1, versions=1)).shop
    db.add(Receipt(key="k", shop_id=found.id, location="/", at=factories.LONG_AGO))
    factories.shop(db, "Elsewhere")
    return found


def counts(db: Session) -> dict[str, int]:
    db.rollback()
    found = {table.name: db.scalar(select(func.count()).select_from(table)) or 0 for table in metadata.sorted_tables}
    return {name: count for name, count in found.items() if count}


def test_pieces_that_are_deleted_by_one_statement_take_all_that_is_theirs(db: Session, shop: Shop) -> None:
    """SA06: DELETE FROM build."""
    assert set(counts(db)) >= OF_A_PIECE
    db.execute(delete(Build))
    db.commit()
    assert orphans(db) == []
    assert not set(counts(db)) & (OF_A_PIECE - {"entry"})


def test_a_shop_goes_with_all_that_is_its_own_and_nothing_else_does(db: Session, shop: Shop) -> None:
    """SA06: pieces first, as the app does it: their operations hold on to products and equipment."""
    db.execute(delete(Build).where(Build.shop_id == shop.id))
    db.execute(delete(Shop).where(Shop.id == shop.id))
    db.commit()
    assert orphans(db) == []
    assert counts(db).keys() - OF_NO_SHOP == {"shop", "room", "opening"}
    assert db.scalars(select(Shop.name)).all() == ["Elsewhere"]


def test_a_shop_that_is_deleted_by_one_statement_goes_whole_or_stays_whole(db: Session, shop: Shop) -> None:
    """SA06: in which order its tables are emptied, each database decides; neither leaves a part of it."""
    before = counts(db)
    try:
        db.execute(delete(Shop).where(Shop.id == shop.id))
        db.commit()
    except IntegrityError:
        assert counts(db) == before
    else:
        assert counts(db).keys() - OF_NO_SHOP == {"shop", "room", "opening"}
    assert orphans(db) == []
