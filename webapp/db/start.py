"""From a setting to a database that can be used: its place looked at, held by this process, its tables up to date."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy.exc import DBAPIError

from webapp.db import instance, migrate, place
from webapp.db.trouble import StartError, trouble_of


@contextmanager
def ready(url: str, what: str, now: datetime) -> Iterator[None]:
    """Hold a database that is up to date while the block runs; raise StartError with a sentence where it cannot be."""
    _look_at(url)
    with instance.held(url, what, now):
        _bring_up(url)
        yield


def bring_up(url: str, what: str, now: datetime) -> None:
    """Bring a database up to date for a command that may run beside the server; raise StartError as `ready` does."""
    _look_at(url)
    with _said():
        if not migrate.is_behind(url):
            return
    with instance.held(url, what, now):
        _bring_up(url)


def _look_at(url: str) -> None:
    database = instance.database_file(url)
    if database is not None:
        place.check(database)


def _bring_up(url: str) -> None:
    with _said():
        migrate.upgrade(url)


@contextmanager
def _said() -> Iterator[None]:
    try:
        yield
    except DBAPIError as error:
        trouble = trouble_of(error)
        if trouble is None:
            raise
        raise StartError(f"{trouble.happened} {trouble.way_out} ({str(error.orig).strip()})") from error
