"""The pictures of the invented shop drawn and stored: the slow part, done before the database is opened."""

import os
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from io import BytesIO

from webapp.invented.drawings import woods
from webapp.invented.drawings.album import photo
from webapp.invented.timeline import Taken, Timeline
from webapp.photos.intake import Received, receive
from webapp.web.files import Store

MOST_AT_ONCE = 4


def stored(timeline: Timeline, unit: str, store: Store, most: int | None = None) -> dict[str, Received]:
    """Draw the pictures of the timeline, or its newest ones, several at once, and store them.

    Returns what came of each by its name.
    """
    taken = sorted((one for laid in timeline.pieces for one in laid.taken), key=lambda one: one.at, reverse=True)[:most]
    with ThreadPoolExecutor(min(MOST_AT_ONCE, os.cpu_count() or 1)) as pool:
        found = list(pool.map(partial(_drawn, unit, store), taken))
    woods.put_away()
    return {one.shot.picture: received for one, received in zip(taken, found, strict=True)}


def _drawn(unit: str, store: Store, one: Taken) -> Received:
    assert one.at.tzinfo is not None
    file = BytesIO(photo(one.shot.picture, unit, one.at))
    return receive(file, f"{one.shot.picture.replace(' ', '-')}.jpg", store, one.at.tzinfo)
