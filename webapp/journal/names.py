"""What clocks and lines are about, by name."""

from collections.abc import Iterable

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.planning.spans import Span
from webapp.shops.models import Maker


def names_of(db: Session, spans: Iterable[Span]) -> list[str]:
    """Return what each clock is for: the operation, the kind of shop time, or the build."""
    found = list(spans)
    operations = called(db, Operation, {span.operation for span in found})
    builds = called(db, Build, {span.build for span in found})
    return [
        operations.get(span.operation or 0) or span.shop_time or builds.get(span.build or 0) or "other work"
        for span in found
    ]


def called(db: Session, table: type[Maker] | type[Build] | type[Operation], ids: set[int | None]) -> dict[int, str]:
    """Return what rows are called, by their ids."""
    wanted = [one for one in ids if one is not None]
    if not wanted:
        return {}
    return {row.id: row.name for row in db.execute(select(table.id, table.name).where(table.id.in_(wanted)))}
