"""What clocks and lines are about, by name."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from sqlalchemy import bindparam, literal, select, union_all
from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.planning.spans import Span
from webapp.shops.models import Maker


@dataclass(frozen=True)
class Names:
    """What makers, operations and builds are called, by their ids."""

    makers: dict[int, str] = field(default_factory=dict)
    operations: dict[int, str] = field(default_factory=dict)
    builds: dict[int, str] = field(default_factory=dict)


TABLES: dict[str, type[Maker] | type[Operation] | type[Build]] = {
    "makers": Maker,
    "operations": Operation,
    "builds": Build,
}
NAMES = union_all(
    *(
        select(literal(kind), table.id, table.name).where(table.id.in_(bindparam(kind)))
        for kind, table in TABLES.items()
    )
)


def names_of(db: Session, spans: Iterable[Span]) -> list[str]:
    """Return what each clock is for: the operation, the kind of shop time, or the build."""
    found = list(spans)
    names = called(db, operations={span.operation for span in found}, builds={span.build for span in found})
    return [
        names.operations.get(span.operation or 0) or span.shop_time or names.builds.get(span.build or 0) or "other work"
        for span in found
    ]


def called(db: Session, **ids: set[int | None]) -> Names:
    """Return the names of these makers, operations and builds: one query."""
    wanted = {kind: [one for one in ids.get(kind, ()) if one is not None] for kind in TABLES}
    found = Names()
    if any(wanted.values()):
        for kind, key, name in db.execute(NAMES, wanted):
            getattr(found, kind)[key] = name
    return found
