"""Pictures in a bucket of a store that speaks S3, for servers that share them. Needs the extra `s3`.

Such a store keeps what it has answered for, and shows a file whole or not at all. The layout is that of the folder, so
that a folder copied into the bucket is a store. Its own addresses are never given away: who may see a photo is asked
at each request, and an address that has been signed would let in whoever it is passed on to.
"""

import logging
import re
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime, timedelta
from io import BufferedReader, RawIOBase
from tempfile import SpooledTemporaryFile
from typing import Any, BinaryIO

import obstore
from obstore.exceptions import BaseError
from obstore.store import S3Store

from webapp.settings import BUCKET, Settings
from webapp.web.files import CHUNK, KEY, StoreAwayError, StoreError, placed

log = logging.getLogger(__name__)

PART = 5 * CHUNK  # the least a part of a large file may have; two at once are in memory
YOUNG = timedelta(hours=12)  # half of what sweeping lets stand
# somebody stands there with a phone: a store that is away is said within seconds, one that is silent within ten
CONNECTED = timedelta(seconds=3)
SILENT = timedelta(seconds=10)
READ = timedelta(minutes=5)  # a whole file
SENT = timedelta(seconds=60)  # a part, over a line of less than a megabit
# the store is asked again when it was busy or the line broke, not when it said no; a part sent twice is the same part
RETRIES = 3
TIRED = timedelta(seconds=10)
FIRST_PAUSE = timedelta(seconds=0.1)
LONGEST_PAUSE = timedelta(seconds=1)
WRONG = (
    ("NoSuchBucket", "the photo store has no such bucket"),
    ("RequestTimeTooSkewed", "the clock of the server is wrong, and the photo store refuses it"),
    (r"StorageFull|QuotaExceeded|status code: 507", "the photo store is full"),
    (r"status code: 40[13]|privileges|authentication", "the photo store refuses the key this server has"),
)
AWAY = (
    (r"status code: (5|429)", "the photo store is out of order or has too much to do"),
    (r"error sending request|timed? ?out|decoding response body", "the photo store does not answer"),
)
STRANGE = "the photo store answered in a way that was not expected"
NEVER = f"{'0' * 64}.original"


class Bucket:
    """A store in a bucket. It is opened by each process for itself: its connections do not survive a fork."""

    def __init__(self, settings: Settings) -> None:
        found = BUCKET.fullmatch(settings.photo_store)
        assert found is not None
        self._place, aws = settings.photo_store, dict(settings.aws)
        options = {
            "bucket": found[1],
            "access_key_id": aws["AWS_ACCESS_KEY_ID"],
            "secret_access_key": aws["AWS_SECRET_ACCESS_KEY"],
            "session_token": aws.get("AWS_SESSION_TOKEN"),
            "region": aws.get("AWS_REGION", "us-east-1"),
            "endpoint": aws.get("AWS_ENDPOINT_URL"),
            "disable_bulk_delete": "true",  # not every store has it
        }
        config = {name: value for name, value in options.items() if value}
        prefix = (found[2] or "").strip("/")
        self._reads = _client(config, prefix, {"timeout": READ, "read_timeout": SILENT})
        self._sends = _client(config, prefix, {"timeout": SENT})

    def check(self) -> None:
        """Raise StoreError where the bucket is not there or not for this server."""
        with suppress(FileNotFoundError), _said(f"Photos cannot be kept in {self._place}"):
            obstore.get(self._reads, placed(NEVER))

    def put(self, key: str, source: BinaryIO) -> None:
        place = placed(key)
        with _said("This photo was not stored"):
            put = self._put_at(place)
            if put is None:
                self._send(place, source)
            elif put < datetime.now(UTC) - YOUNG:
                self._renew(key, source)

    def open(self, key: str) -> BinaryIO:
        place = placed(key)
        with _said("This photo cannot be read now"):
            return BufferedReader(_Stream(obstore.get(self._reads, place).stream(CHUNK)), CHUNK)

    def exists(self, key: str) -> bool:
        place = placed(key)
        with _said("This photo cannot be read now"):
            return self._put_at(place) is not None

    def delete(self, key: str) -> None:
        place = placed(key)
        with _said("This photo was not taken away"):
            obstore.delete(self._sends, place)

    def kept(self) -> Iterator[tuple[str, datetime]]:
        with _said("This photo cannot be read now"):
            for some in obstore.list(self._reads, chunk_size=1000):
                for found in some:
                    name = found["path"].rsplit("/", 1)[-1]
                    if KEY.fullmatch(name) and found["path"] == placed(name):
                        yield name, found["last_modified"]

    def _put_at(self, place: str) -> datetime | None:
        try:
            return obstore.head(self._reads, place)["last_modified"]
        except FileNotFoundError:
            return None

    def _send(self, place: str, source: BinaryIO) -> None:
        obstore.put(self._sends, place, source, chunk_size=PART, max_concurrency=2)

    def _renew(self, key: str, source: BinaryIO) -> None:
        """Put what is there once more: sweeping goes by age, and a file that is wanted again is young again."""
        with SpooledTemporaryFile(PART) as there:
            try:
                with self.open(key) as file:
                    shutil.copyfileobj(file, there, CHUNK)
            except FileNotFoundError:  # swept at this very moment
                self._send(placed(key), source)
                return
            there.seek(0)
            self._send(placed(key), there)  # type: ignore[arg-type]


def _client(config: Any, prefix: str, patience: dict[str, timedelta]) -> S3Store:
    options: Any = {"connect_timeout": CONNECTED, **patience}
    if config.get("endpoint", "").startswith("http://"):  # somebody wrote it so
        options["allow_http"] = True
    return S3Store(
        prefix=prefix or None,
        config=config,
        client_options=options,
        retry_config={
            "max_retries": RETRIES,
            "retry_timeout": TIRED,
            "backoff": {"init_backoff": FIRST_PAUSE, "max_backoff": LONGEST_PAUSE, "base": 2},
        },
    )


class _Stream(RawIOBase):
    """A file as it comes in, piece by piece."""

    def __init__(self, pieces: Iterator[bytes]) -> None:
        self._pieces = pieces
        self._left = memoryview(b"")

    def readable(self) -> bool:
        return True

    def readinto(self, buffer: Any) -> int:
        if not self._left:
            with _said("This photo cannot be read now"):
                self._left = memoryview(next(self._pieces, b""))
        count = min(len(buffer), len(self._left))
        buffer[:count] = self._left[:count]
        self._left = self._left[count:]
        return count


@contextmanager
def _said(what: str) -> Iterator[None]:
    """Turn what the store says into one sentence; what is not there is FileNotFoundError as in a folder."""
    try:
        yield
    except (BaseError, FileNotFoundError) as error:
        said = str(error)
        if isinstance(error, FileNotFoundError) and "NoSuchBucket" not in said:
            raise
        log.warning("photo store: %s", said.split("\n")[0])
        raise _error(what, said) from error


def _error(what: str, said: str) -> StoreError:
    for kind, marks in ((StoreError, WRONG), (StoreAwayError, AWAY)):
        why = next((words for mark, words in marks if re.search(mark, said, re.IGNORECASE)), None)
        if why is not None:
            return kind(f"{what}: {why}.")
    return StoreError(f"{what}: {STRANGE}.")
