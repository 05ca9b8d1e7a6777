"""The invented shop put up and taken down."""

from collections.abc import Mapping
from datetime import datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from webapp.builds.models import Build
from webapp.invented.happened import add_events, add_photos
from webapp.invented.rows import add_boards, add_build
from webapp.invented.stand import stand
from webapp.invented.timeline import Timeline
from webapp.invented.wood import Reads, add_usual_house
from webapp.people.models import Person
from webapp.photos.intake import Received
from webapp.photos.models import Photo, key, original
from webapp.shops.models import OWNER, Maker, Shop
from webapp.web.images import SIZES


def invented_shop_of(db: Session, person_id: int) -> Shop | None:
    """Return the invented shop that somebody owns already: one is enough."""
    owned = select(Shop).join(Maker).where(Maker.person_id == person_id, Maker.role == OWNER, Shop.is_invented)
    return db.scalar(owned.order_by(Shop.id).limit(1))


def put_up(
    db: Session, person: Person, zone: str, timeline: Timeline, received: Mapping[str, Received], now: datetime
) -> Shop:
    """Add the invented shop with all its rows; its pictures are stored already."""
    standing = stand(db, person, zone, now)
    reads = Reads(db, standing)
    add_usual_house(db, standing)
    add_boards(db, standing, reads)
    for laid in timeline.pieces:
        build, operations = add_build(db, standing, reads, laid)
        add_events(db, standing, laid.events, build, operations)
        add_photos(db, standing, laid, build, operations, received)
    add_events(db, standing, timeline.shop_time)
    db.flush()
    return standing.shop


def take_down(db: Session, shop: Shop) -> list[str]:
    """Delete an invented shop with all its rows; returns the names of the files that no other shop names."""
    assert shop.is_invented
    own = set(db.scalars(select(Photo.sha256).where(Photo.shop_id == shop.id)))
    others = set(db.scalars(select(Photo.sha256).where(Photo.shop_id != shop.id, Photo.sha256.in_(own))))
    # builds first: their operations hold on to products and equipment
    db.execute(delete(Build).where(Build.shop_id == shop.id))
    db.execute(delete(Shop).where(Shop.id == shop.id, Shop.is_invented))
    return [name for sha256 in sorted(own - others) for name in _files(sha256)]


def _files(sha256: str) -> list[str]:
    return [original(sha256), *(key(sha256, size) for size in SIZES)]
