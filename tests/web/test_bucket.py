"""The store in a bucket: what goes wrong between two computers, said in a sentence."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from io import BytesIO
from pathlib import Path

import obstore
import pytest

from tests import buckets
from webapp.settings import Settings
from webapp.web import bucket
from webapp.web.bucket import Bucket
from webapp.web.files import Store, StoreError, store_of

KEY = f"ab{'0' * 62}.original"


@pytest.fixture
def store_kind() -> str:
    return "bucket"


def at(url: str, place: str = f"s3://{buckets.NAME}") -> Bucket:
    aws = (*buckets.KEY, ("AWS_ENDPOINT_URL", url))
    return Bucket(Settings(instance=Path("nowhere"), photo_store=place, aws=aws))


@contextmanager
def silent() -> Iterator[str]:
    """The address of a server that takes what is said to it and never answers."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        yield f"http://127.0.0.1:{server.getsockname()[1]}"


def test_the_settings_name_the_store(settings: Settings, store: Store) -> None:
    assert isinstance(store, Bucket)
    assert store_of(settings) is store
    assert "planed and true" not in repr(settings)


def test_the_layout_is_that_of_a_folder(settings: Settings, store: Bucket, bucket_server: buckets.Server) -> None:
    """So that a folder which was copied into the bucket is a store, and a bucket copied into a folder."""
    store.put(KEY, BytesIO(b"oak"))
    whole = at(bucket_server.url)._reads
    prefix = settings.photo_store.rsplit("/", 1)[1]
    assert [found["path"] for found in obstore.list(whole, prefix).collect()] == [f"{prefix}/ab/{KEY}"]
    obstore.put(whole, f"{prefix}/ab/notes.txt", b"somebody's own")
    obstore.put(whole, f"{prefix}/{KEY}", b"in the wrong place")
    assert [name for name, _ in store.kept()] == [KEY]


def test_a_file_that_is_wanted_again_is_young_again(store: Bucket, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sweeping goes by age. What is there is put once more, not what was sent."""
    store.put(KEY, BytesIO(b"oak"))
    ((_, first),) = store.kept()
    time.sleep(1.01)  # such a store tells time in seconds
    store.put(KEY, BytesIO(b"ash"))
    assert list(store.kept()) == [(KEY, first)]
    monkeypatch.setattr(bucket, "YOUNG", timedelta(seconds=-10))
    store.put(KEY, BytesIO(b"ash"))
    ((_, second),) = store.kept()
    assert second > first
    with store.open(KEY) as file:
        assert file.read() == b"oak"


def test_a_bucket_that_is_not_there_says_so(bucket_server: buckets.Server) -> None:
    """Also where the answer alone would say no more than that there is no such file."""
    nowhere = at(bucket_server.url, "s3://no-such-bucket/photos")
    with pytest.raises(StoreError, match="no such bucket"):
        nowhere.check()
    with pytest.raises(StoreError, match=r"^This photo was not stored: the photo store has no such bucket\.$"):
        nowhere.put(KEY, BytesIO(b"oak"))
    with pytest.raises(StoreError, match="no such bucket"):
        list(nowhere.kept())


def test_a_key_that_is_refused_says_so(store: Bucket, bucket_server: buckets.Server) -> None:
    bucket_server.trust(anybody=False)
    try:
        with pytest.raises(StoreError, match="refuses the key"):
            store.check()
        with pytest.raises(StoreError, match=r"^This photo was not stored: the photo store refuses the key"):
            store.put(KEY, BytesIO(b"oak"))
        with pytest.raises(StoreError, match=r"^This photo cannot be read now: the photo store refuses the key"):
            store.open(KEY)
        with pytest.raises(StoreError, match="refuses the key"):
            list(store.kept())
    finally:
        bucket_server.trust(anybody=True)


def test_a_store_that_is_away_is_said_within_seconds() -> None:
    with silent() as url:
        pass
    away, began = at(url), time.monotonic()
    for verb in (lambda: away.put(KEY, BytesIO(b"oak")), lambda: away.open(KEY), lambda: away.exists(KEY), away.check):
        with pytest.raises(StoreError, match=r"the photo store does not answer\.$"):
            verb()
    assert time.monotonic() - began < 10


def test_a_store_that_is_silent_is_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bucket, "SILENT", timedelta(seconds=0.2))
    monkeypatch.setattr(bucket, "TIRED", timedelta(seconds=0))
    with silent() as url, pytest.raises(StoreError, match="does not answer"):
        at(url).open(KEY)


def test_a_file_that_cannot_be_read_leaves_nothing_behind(store: Store) -> None:
    class Torn(BytesIO):
        def read(self, size: int | None = -1) -> bytes:
            raise OSError("torn")

    with pytest.raises(OSError, match="torn"):
        store.put(KEY, Torn(b"oak"))
    assert list(store.kept()) == []
