"""What both stores promise: a folder of this computer, and a bucket."""

from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest

from webapp.web.files import Store

HASH = "ab" + "0" * 62
KEY = f"{HASH}.original"

pytestmark = pytest.mark.parametrize("store_kind", ["folder", "bucket"], indirect=True)


def names(store: Store) -> list[str]:
    return [name for name, _ in store.kept()]


def content(store: Store, key: str) -> bytes:
    with store.open(key) as file:
        return file.read()


def test_what_was_put_is_there(store: Store) -> None:
    store.check()
    store.put(KEY, BytesIO(b"oak"))
    assert store.exists(KEY)
    assert content(store, KEY) == b"oak"
    assert names(store) == [KEY]


def test_what_is_there_stays_as_it_is(store: Store) -> None:
    store.put(KEY, BytesIO(b"oak"))
    store.put(KEY, BytesIO(b"ash"))
    assert content(store, KEY) == b"oak"


@pytest.mark.parametrize("size", [0, 1, (1 << 20) + 1, 12 << 20])
def test_of_any_size_it_comes_back_as_it_was(store: Store, size: int) -> None:
    """12 MB goes to a bucket in three parts."""
    sent = bytes(range(251)) * (size // 251 + 1)
    store.put(KEY, BytesIO(sent[:size]))
    assert content(store, KEY) == sent[:size]


def test_it_is_read_piece_by_piece(store: Store) -> None:
    store.put(KEY, BytesIO(b"heartwood" * 1000))
    with store.open(KEY) as file:
        assert file.read(5) == b"heart"
        assert file.read(4) == b"wood"
        assert file.read() == b"heartwood" * 999
        assert file.read() == b""


def test_what_was_deleted_is_gone_and_may_be_deleted_again(store: Store) -> None:
    store.put(KEY, BytesIO(b"oak"))
    store.delete(KEY)
    store.delete(KEY)
    assert not store.exists(KEY)
    with pytest.raises(FileNotFoundError):
        store.open(KEY)


@pytest.mark.parametrize(
    "name", ["../../etc/passwd", "фото.jpg", "😆", "", f"{HASH}/x", f"{HASH}.a/../../b", "a" * 300]
)
def test_only_names_of_our_own_are_taken(store: Store, name: str) -> None:
    """SA16: nothing that was typed or sent becomes the name of a file."""
    for verb in (store.open, store.exists, store.delete):
        with pytest.raises(ValueError, match="not a name"):
            verb(name)
    with pytest.raises(ValueError, match="not a name"):
        store.put(name, BytesIO(b"x"))


def test_all_that_is_kept_is_listed_with_its_age(store: Store) -> None:
    several = [f"{number:02x}{'0' * 62}.{kind}" for number in range(3) for kind in ("large.webp", "original")]
    for name in several:
        store.put(name, BytesIO(b"oak"))
    kept = dict(store.kept())
    assert sorted(kept) == several
    assert all(abs(datetime.now(UTC) - put) < timedelta(minutes=5) for put in kept.values())


def test_an_empty_store_keeps_nothing(store: Store) -> None:
    assert list(store.kept()) == []
    assert not store.exists(KEY)
