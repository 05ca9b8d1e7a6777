"""From a timeline to lines of the journal and rows of photos."""

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import uuid4

from sqlalchemy.orm import Session

from webapp.builds.models import Build, Operation
from webapp.db.folding import fold
from webapp.invented.parts import length_of, size_key
from webapp.invented.script import HELPER, Measured
from webapp.invented.stand import Stand
from webapp.invented.timeline import Event, Laid, Taken
from webapp.journal.actions import SEARCHED
from webapp.journal.models import Entry
from webapp.photos.actions import KIND
from webapp.photos.intake import Received
from webapp.photos.models import Photo
from webapp.planning import entry as planning

SAID = ("note", "reason", "early")
BEGINS_A_WAIT = ("done", "clamped")  # these lines name the figures that the wait begins with


def add_events(
    db: Session,
    stand: Stand,
    events: Sequence[Event],
    build: Build | None = None,
    operations: Mapping[str, Operation] | None = None,
) -> None:
    """Write the lines of a build, or of the shop."""
    key = ""
    for event in events:
        key = f"{key}.early" if event.of_start else uuid4().hex
        operation = operations[event.step] if operations and event.step else None
        maker = stand.helper if event.who == HELPER else stand.owner
        line = planning.Entry(
            key,
            event.at,
            event.at,
            event.kind,
            maker.id,
            operation.id if operation else None,
            build.id if build else None,
            _data(stand, event, operation),
        )
        db.add(_row(stand, line))


def _data(stand: Stand, event: Event, operation: Operation | None) -> dict[str, Any]:
    if "measured" in event.data:
        return _measured(stand, event.data["measured"])
    data = {key: stand.said(value) if key in SAID else value for key, value in event.data.items()}
    if event.kind in BEGINS_A_WAIT and operation is not None and operation.product_id is not None:
        product = next(row for row in stand.products.values() if row.id == operation.product_id)
        data["figures"] = product.current.id
    return data


def _measured(stand: Stand, one: Measured) -> dict[str, Any]:
    actual = length_of(stand, one.metric, one.us)
    return {"size": size_key(one.size), "name": one.size, "actual": actual.entered}


def _row(stand: Stand, line: planning.Entry) -> Entry:
    words = [text for text in (line.word(key) for key in SEARCHED) if text]
    return Entry(
        id=line.id,
        shop_id=stand.shop.id,
        build_id=line.build,
        operation_id=line.operation,
        maker_id=line.maker,
        kind=line.kind,
        at=line.at,
        arrived_at=line.arrived,
        data=dict(line.data),
        folded=fold(" ".join(words)),
    )


def add_photos(
    db: Session,
    stand: Stand,
    laid: Laid,
    build: Build,
    operations: Mapping[str, Operation],
    received: Mapping[str, Received],
) -> None:
    """Put the stored pictures of a build where they were taken, each with its line in the journal."""
    for taken in (one for one in laid.taken if one.shot.picture in received):
        operation = operations[taken.step] if taken.step else None
        photo = _photo(stand, build, operation, taken, received[taken.shot.picture])
        db.add(photo)
        db.flush()
        data = {"photo": photo.id, "note": photo.caption}
        line = planning.Entry(
            photo.entry_id, taken.at, taken.at, KIND, stand.owner.id, photo.operation_id, build.id, data
        )
        db.add(_row(stand, line))


def _photo(stand: Stand, build: Build, operation: Operation | None, taken: Taken, stored: Received) -> Photo:
    return Photo(
        shop_id=stand.shop.id,
        build_id=build.id,
        operation_id=operation.id if operation else None,
        maker_id=stand.owner.id,
        sha256=stored.sha256,
        shown_sha256=stored.shown_sha256,
        sent_name=stored.sent_name,
        width=stored.width,
        height=stored.height,
        taken_at=stored.taken_at,
        at=taken.at,
        caption=stand.said(taken.shot.caption),
        is_cover=taken.shot.cover,
    )
