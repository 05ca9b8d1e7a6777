"""What the tests of the journal share: posting a verb as a page does, and a scene to post it into."""

from typing import Any
from uuid import uuid4

from flask.testing import FlaskClient
from sqlalchemy import Engine, event, select
from sqlalchemy.orm import Session
from werkzeug.test import TestResponse

from tests import factories
from webapp.builds.models import Operation
from webapp.journal.models import Entry
from webapp.shops.models import Shop


def tap(client: FlaskClient, path: str, id: str = "", **data: Any) -> TestResponse:  # noqa: A002
    """Send a verb as its button does."""
    return client.post(path, data={"id": id or uuid4().hex, **data})


def entries(db: Session, *kinds: str) -> list[Entry]:
    """The lines in the journal, oldest first, of these kinds or of all."""
    db.rollback()  # a new look: the session may still see the moment it last read
    found = db.scalars(select(Entry).order_by(Entry.arrived_at, Entry.id)).all()
    db.commit()
    return [entry for entry in found if not kinds or entry.kind in kinds]


def glue_up(db: Session, shop: Shop, hours: float = 1, **values: Any) -> tuple[Operation, Operation]:
    """A glue-up, and planing that waits for its glue line to rest."""
    stages = [{"name": "out of clamps", "hours": hours}, {"name": "ready to plane", "hours": 168}]
    product = factories.product(db, shop, values.pop("glue", "yellow PVA"), stages=stages)
    build = factories.build(db, shop, values.pop("name", "Cherry desk"))
    glue = factories.operation(db, build, "glue-up", name="Glue up the top", product_id=product.id)
    plane = factories.operation(db, build, "level", name="Plane the top", after=[(glue, "ready to plane")])
    return glue, plane


def queries(engine: Engine, client: FlaskClient, path: str) -> int:
    """How many statements a page needs."""
    seen: list[str] = []

    def note(_connection: object, _cursor: object, statement: str, *_rest: object) -> None:
        seen.append(statement)

    event.listen(engine, "before_cursor_execute", note)
    try:
        assert client.get(path).status_code == 200
    finally:
        event.remove(engine, "before_cursor_execute", note)
    return len(seen)
