"""Keys of journal lines: in the file they are numbers, put in again they are new ids in the same order.

An id is made of parts between full stops. The first is made by a page, or is that of a photo's line (photo-7, and
photo-7-00002 where it was corrected); what follows is the app's own word, or the id of another line (`x.pauses.y`).
Lines of one moment are ordered by their ids, so new ids keep the order of the old ones.
"""

import re
from collections.abc import Iterable, Iterator, Mapping

WORDS = ("early", "pauses")
PHOTO = re.compile(r"photo-([1-9][0-9]{0,8})(-[0-9]{5})?", re.ASCII)
_PART = rf"(?:[1-9][0-9]{{0,8}}|{PHOTO.pattern})"
KEY = re.compile(rf"{_PART}(?:\.(?:{'|'.join(WORDS)}|{_PART})){{0,6}}", re.ASCII)

Order = tuple[tuple[int, int, str], ...]


def _parts(key: str) -> Iterator[tuple[str, bool]]:
    """The parts of an id, each with whether it is the app's own word."""
    first, *others = key.split(".")
    yield first, False
    yield from ((part, part in WORDS) for part in others)


class Numbered:
    """The keys that ids have in a file."""

    def __init__(self, ids: Iterable[str], photos: Mapping[int, int]) -> None:
        """Number the ids; `photos` are the numbers that photos have in the file, by their ids."""
        self._photos = photos
        free = {part for key in ids for part, is_word in _parts(key) if not is_word and not self._photo(part)}
        self._numbers = {part: str(number) for number, part in enumerate(sorted(free), 1)}

    def of(self, key: str) -> str:
        return ".".join(part if is_word else self._photo(part) or self._numbers[part] for part, is_word in _parts(key))

    def _photo(self, part: str) -> str | None:
        found = PHOTO.fullmatch(part)
        number = self._photos.get(int(found[1])) if found else None
        return None if found is None or number is None else f"photo-{number}{found[2] or ''}"


class Fresh:
    """New ids for the keys of a file. `token` is new for each putting in, so none of them is there already."""

    def __init__(self, token: str, photos: Mapping[int, int]) -> None:
        """`photos` are the new ids of photos, by their numbers in the file."""
        self._token, self._photos = token, photos

    def of(self, key: str) -> str:
        return ".".join(part if is_word else self._part(part) for part, is_word in _parts(key))

    def _part(self, part: str) -> str:
        found = PHOTO.fullmatch(part)
        if found is None:
            return f"{self._token}-{int(part):09}"
        photo_id = self._photos.get(int(found[1]))
        return f"{self._token}-{part}" if photo_id is None else f"photo-{photo_id}{found[2] or ''}"


def order(key: str) -> Order:
    """Return what lines of one moment are sorted by: as their ids are, but photos by their numbers."""
    return tuple(_order(part, is_word) for part, is_word in _parts(key))


def _order(part: str, is_word: bool) -> tuple[int, int, str]:
    found = PHOTO.fullmatch(part)
    if is_word:
        return 1, 0, part
    return (2, int(found[1]), found[2] or "") if found else (0, int(part), "")
