"""The one picture that stands for a build, and how many photos an operation has: for whole lists in one query."""

from collections.abc import Iterable

from sqlalchemy import bindparam, func, select
from sqlalchemy.orm import Session, aliased

from webapp.builds.models import Build, Operation
from webapp.photos.models import Photo

ONE = aliased(Photo)
FIRST = (
    select(ONE.id)
    .where(ONE.build_id == Build.id, ONE.removed_at.is_(None))
    .order_by(ONE.is_cover.desc(), ONE.at.desc(), ONE.id.desc())
    .limit(1)
    .scalar_subquery()
)
# looked up build by build in an index of that order, whatever number of photos they have
COVERS = select(Photo).select_from(Build).join(Photo, Photo.id == FIRST).where(Build.id.in_(bindparam("builds")))


def covers(db: Session, builds: Iterable[Build]) -> dict[int, Photo]:
    """Return the picture of each build that has one, by the build's id: the chosen one, else the newest."""
    found = db.scalars(COVERS, {"builds": [build.id for build in builds]})
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
