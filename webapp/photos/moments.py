"""When a photo happened. The camera is believed unless its clock cannot be right; then somebody is asked."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from webapp.photos.models import Photo

AHEAD = timedelta(days=1)
BEFORE = timedelta(days=30)
FIRST_YEAR = 2000


class MomentError(ValueError):
    """A time that a photo cannot have; the text says why."""


def placed(taken_at: datetime | None, now: datetime) -> tuple[datetime, bool]:
    """Return where a photo sent now stands in the journal, and whether to ask about the camera's clock."""
    if taken_at is None:
        return now, False
    asks = taken_at > now + AHEAD or taken_at < now - BEFORE or taken_at.year < FIRST_YEAR
    return (now if asks else min(taken_at, now)), asks


def by_camera(photo: Photo) -> datetime:
    """Return the camera's time of a photo; where there is none, the time it stands at."""
    return photo.taken_at or photo.at


def shifted(photos: Sequence[Photo], span: timedelta, now: datetime) -> list[datetime]:
    """Return the camera's times moved by a span, of a whole batch; raise MomentError when one leads astray."""
    try:
        found = [by_camera(photo) + span for photo in photos]
    except OverflowError:
        raise MomentError("That is too far.") from None
    if any(moment > now for moment in found):
        raise MomentError("That would put a photo into the future.")
    if any(moment.year < FIRST_YEAR for moment in found):
        raise MomentError(f"That would put a photo before {FIRST_YEAR}.")
    return found
