"""A photo; its files lie under the hash of what was sent (webapp/web/files.py)."""

from datetime import datetime

from sqlalchemy import ForeignKey, Index, Select, UniqueConstraint, and_, or_, select
from sqlalchemy.orm import Mapped, joinedload, mapped_column, relationship

from webapp.builds.models import Build, Operation
from webapp.db.base import Base
from webapp.shops.models import Maker, shop_key
from webapp.web.images import SIZES, fitted


class Photo(Base):
    __tablename__ = "photo"
    __table_args__ = (
        UniqueConstraint("shop_id", "build_id", "operation_id", "sha256"),
        Index("ix_photo_shop_id_at", "shop_id", "at"),
        Index("ix_photo_build_id_is_cover", "build_id", "is_cover", "at", "id"),  # the picture of a build comes last
    )

    id: Mapped[int] = mapped_column(primary_key=True)
    shop_id: Mapped[int] = shop_key()
    build_id: Mapped[int | None] = mapped_column(ForeignKey("build.id", ondelete="CASCADE"))
    operation_id: Mapped[int | None] = mapped_column(ForeignKey("operation.id", ondelete="SET NULL"), index=True)
    maker_id: Mapped[int | None] = mapped_column(ForeignKey("maker.id", ondelete="SET NULL"))
    sha256: Mapped[str] = mapped_column(index=True)
    shown_sha256: Mapped[str | None]  # of the large picture as it is served; none: a row from before it was noted
    sent_name: Mapped[str]
    width: Mapped[int]
    height: Mapped[int]
    taken_at: Mapped[datetime | None]  # what the camera says
    at: Mapped[datetime]  # where it stands in the journal
    asks_time: Mapped[bool] = mapped_column(default=False)  # the camera's clock cannot be right: somebody is to say
    caption: Mapped[str] = mapped_column(default="")
    is_cover: Mapped[bool] = mapped_column(default=False)
    removed_at: Mapped[datetime | None]
    version: Mapped[int] = mapped_column()

    __mapper_args__ = {"version_id_col": version}

    maker: Mapped[Maker | None] = relationship()
    build: Mapped[Build | None] = relationship()
    operation: Mapped[Operation | None] = relationship()

    @property
    def entry_id(self) -> str:
        """The id of its line in the journal."""
        return f"photo-{self.id}"

    @property
    def mark(self) -> str:
        """What its address bears, so that a browser that kept it shows no other picture in its place."""
        return self.sha256[:12]

    @property
    def alt(self) -> str:
        """What stands in place of the picture for those who do not see it."""
        where = self.operation or self.build
        return self.caption or (f"Photo of {where.name}" if where else "Photo")

    def fitted(self, size: str) -> tuple[int, int]:
        """Return how wide and high a size of it is, for the page to leave room before it is loaded."""
        return fitted(self.width, self.height, SIZES[size])


def key(sha256: str, size: str) -> str:
    """Return the name of a stored picture."""
    return f"{sha256}.{size}.webp"


def original(sha256: str) -> str:
    """Return the name of the file as it was sent, which holds the place it was taken at and is never served."""
    return f"{sha256}.original"


def newest(shop_id: int, build: Build | None = None, operation: Operation | None = None) -> Select[Photo]:
    """Return the photos of a shop, a build or an operation, newest first, with what their pages name."""
    place = Photo.shop_id == shop_id
    if build is not None:
        place = Photo.build_id == build.id
    if operation is not None:
        place = Photo.operation_id == operation.id
    return (
        select(Photo)
        .where(place, Photo.removed_at.is_(None))
        .order_by(Photo.at.desc(), Photo.id.desc())
        .options(joinedload(Photo.operation), joinedload(Photo.build))
    )


def beside(photo: Photo) -> tuple[Select[Photo], Select[Photo]]:
    """Return the photo of the same build before this one in time, and the one after it."""
    place = Photo.build_id == photo.build_id
    if photo.build_id is None:
        place = and_(Photo.shop_id == photo.shop_id, Photo.build_id.is_(None))
    same = (place, Photo.removed_at.is_(None))
    before = or_(Photo.at < photo.at, and_(Photo.at == photo.at, Photo.id < photo.id))
    after = or_(Photo.at > photo.at, and_(Photo.at == photo.at, Photo.id > photo.id))
    return (
        select(Photo).where(*same, before).order_by(Photo.at.desc(), Photo.id.desc()).limit(1),
        select(Photo).where(*same, after).order_by(Photo.at, Photo.id).limit(1),
    )
