"""The one picture that stands for a build, and how many photos an operation has: for whole lists in one query."""

from collections.abc import Iterable

from sqlalchemy import func, select
from sqlalchemy.orm import Session, joinedload

from webapp.builds.models import Build, Operation
from webapp.photos.models import Photo


def covers(db: Session, builds: Iterable[Build]) -> dict[int, Photo]:
    """Return the picture of each build that has one, by the build's id: the chosen one, else the newest."""
    rank = func.row_number().over(
        partition_by=Photo.build_id, order_by=(Photo.is_cover.desc(), Photo.at.desc(), Photo.id.desc())
    )
    ids = [build.id for build in builds]
    ranked = select(Photo.id, rank.label("rank")).where(Photo.build_id.in_(ids), Photo.removed_at.is_(None)).subquery()
    wanted = select(Photo).join(ranked, ranked.c.id == Photo.id).where(ranked.c.rank == 1)
    found = db.scalars(wanted.options(joinedload(Photo.operation))).all()
    return {photo.build_id: photo for photo in found if photo.build_id is not None}


def counts(db: Session, operations: Iterable[Operation]) -> dict[int, int]:
    """Return how many photos each operation has, by the operation's id; those without any are left out."""
    ids = [operation.id for operation in operations]
    wanted = (
        select(Photo.operation_id, func.count())
        .where(Photo.operation_id.in_(ids), Photo.removed_at.is_(None))
        .group_by(Photo.operation_id)
    )
    return {operation_id: count for operation_id, count in db.execute(wanted) if operation_id is not None}
