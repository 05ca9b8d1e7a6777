"""From files as they are sent to stored pictures. No database is open meanwhile: this is the slow part.

Files are on the disk for good before any row names them. One that no row comes to name is harmless, and swept later.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, tzinfo
from io import BytesIO
from typing import BinaryIO

from webapp.photos.models import key, original
from webapp.web import images
from webapp.web.files import Store, StoreError, name_of
from webapp.web.text import tidy_line

LONGEST_NAME = 200
LARGE = "large"


@dataclass(frozen=True)
class Received:
    """A picture whose files are stored."""

    sha256: str
    shown_sha256: str
    sent_name: str
    width: int
    height: int
    taken_at: datetime | None


@dataclass(frozen=True)
class Refused:
    """A file that was not taken, and why."""

    name: str
    says: str


@dataclass
class Batch:
    """What became of the files of one sending."""

    received: list[Received] = field(default_factory=list)
    refused: list[Refused] = field(default_factory=list)


def receive_all(sent: Iterable[tuple[str, BinaryIO]], store: Store, zone: tzinfo) -> Batch:
    """Store the pictures among (name, file), one after the other; a bad one does not stop the rest.

    A store that fails does: asking one that is away for each of a hundred would take minutes.
    """
    batch, lost = Batch(), ""
    for name, file in sent:
        shown = tidy_line(name)[:LONGEST_NAME].strip() or "photo"
        try:
            if lost:
                raise StoreError(lost)
            batch.received.append(receive(file, shown, store, zone))
        except StoreError as error:
            lost = str(error)
            batch.refused.append(Refused(shown, lost))
        except images.PictureError as error:
            batch.refused.append(Refused(shown, str(error)))
    return batch


def receive(file: BinaryIO, name: str, store: Store, zone: tzinfo) -> Received:
    """Store one picture: as it was sent, and in each size it is shown in. Raises PictureError, StoreError."""
    picture = images.read(file)
    sha256 = name_of(file)
    store.put(original(sha256), file)
    for size, content in picture.sizes.items():
        store.put(key(sha256, size), BytesIO(content))
    return Received(sha256, shown(sha256, store), name, picture.width, picture.height, picture.taken_at(zone))


def shown(sha256: str, store: Store) -> str:
    """Return the hash of the large picture as it is served; raises FileNotFoundError where it is gone."""
    with store.open(key(sha256, LARGE)) as file:
        return name_of(BytesIO(file.read()))
