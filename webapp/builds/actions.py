"""What other code asks of builds: a lock, their order, and whether a record hangs on a row."""

from collections.abc import Sequence

from sqlalchemy import ForeignKey, case, exists, select, update
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.db.base import Base

OWN_TABLES = {"operation", "part", "size", "link", "hold"}


def lock(db: Session, build_id: int) -> None:
    """Let those who change what the operations of a build wait for come one after the other."""
    db.execute(select(Build.id).where(Build.id == build_id).with_for_update(key_share=True))


def set_order(db: Session, operations: Sequence[Operation]) -> None:
    """Store the order in which operations are shown. It makes no new version of them: it outdates nobody's edit."""
    if operations:
        places = {one.id: number for number, one in enumerate(operations, 1)}
        db.execute(
            update(Operation).where(Operation.id.in_(places)).values(position=case(places, value=Operation.id)),
            execution_options={"synchronize_session": False},
        )


def has_record(db: Session, row: Build | Operation) -> bool:
    """Return whether rows of later rooms would go with this one: entries, photos, costs. The record only grows."""
    keys = [key for table in Base.metadata.tables.values() for key in table.foreign_keys if _goes_along(key, row)]
    return any(db.scalar(select(exists().where(key.parent == row.id))) for key in keys)


def _goes_along(key: ForeignKey, row: Build | Operation) -> bool:
    return (
        key.parent.table.name not in OWN_TABLES
        and key.column.table.name == row.__tablename__
        and key.ondelete == "CASCADE"
    )
