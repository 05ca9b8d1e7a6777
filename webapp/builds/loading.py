"""All that hangs on builds, in few queries however many builds there are, and once in a session."""

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session, joinedload, selectinload
from sqlalchemy.orm.attributes import set_committed_value

from webapp.builds.models import Build, Hold, Link, Operation
from webapp.db.held import held
from webapp.products.models import Product
from webapp.shops.models import Room


def load_operations(db: Session, builds: Sequence[Build]) -> None:
    """Read the operations of builds with what they wait for, hold and use."""
    load_steps(db, builds)
    operations = [one for build in _lacking(db, "used", builds) for one in build.operations]
    if not operations:
        return
    products = select(Product).where(Product.id.in_({one.product_id for one in operations} - {None}))
    rooms = select(Room).where(Room.id.in_({one.room_id for one in operations} - {None}))
    read = [*db.scalars(products.options(selectinload(Product.figures))), *db.scalars(rooms)]
    held(db).setdefault("products and rooms", []).extend(read)


def load_steps(db: Session, builds: Sequence[Build]) -> None:
    """Read the operations of builds with what they wait for and hold.

    What points at one row (an operation's build, product, room, the operation that a link names) is not set here: a
    session that holds the row finds it by its key without a query, and most are never asked for.
    """
    lacking = {build.id: build for build in _lacking(db, "steps", builds)}
    if not lacking:
        return
    of_these = Operation.build_id.in_(lacking)
    operations = db.scalars(select(Operation).where(of_these).order_by(Operation.position, Operation.id)).all()
    links = db.scalars(select(Link).join(Link.operation).where(of_these).order_by(Link.id))
    holds = select(Hold).join(Hold.operation).where(of_these).order_by(Hold.id).options(joinedload(Hold.equipment))
    after, kept, own = _by(links, "operation_id"), _by(db.scalars(holds), "operation_id"), _by(operations, "build_id")
    for one in operations:
        set_committed_value(one, "after", after[one.id])
        set_committed_value(one, "holds", kept[one.id])
    for build in lacking.values():
        set_committed_value(build, "operations", own[build.id])


def _lacking(db: Session, what: str, builds: Sequence[Build]) -> list[Build]:
    """Return the builds of which that was not read yet, and note that it is."""
    known: dict[int, Build] = held(db).setdefault(what, {})
    found = [build for build in builds if build.id not in known]
    known.update({build.id: build for build in found})
    return found


def _by(rows: Any, name: str) -> defaultdict[int, list[Any]]:
    found: defaultdict[int, list[Any]] = defaultdict(list)
    for row in rows:
        found[getattr(row, name)].append(row)
    return found
