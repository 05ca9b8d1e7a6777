"""What every way of serving asks before the first page, and says of itself."""

import logging
from datetime import datetime

from sqlalchemy import func, select, text
from sqlalchemy.orm import Session

from webapp.db import place
from webapp.db.engine import make_engine
from webapp.db.trouble import StartError
from webapp.journal import wrong_clock
from webapp.people.models import Person
from webapp.settings import LOOPBACK, Settings
from webapp.web.files import StoreAwayError, StoreError, store_of

log = logging.getLogger(__name__)

NO_ACCOUNT = """Benchtide was asked to listen on {}, where others can reach it, and no account has a password yet.
Make one first: benchtide account add NAME   (in a checkout: .venv/bin/python -m webapp account add NAME)"""


def check(settings: Settings) -> None:
    """Raise StartError where an instance, whose database is up to date, is not fit to be served."""
    place.check_folder(settings.instance)
    if not settings.is_local and not _has_password(settings):
        raise StartError(NO_ACCOUNT.format(settings.host))


def check_store(settings: Settings) -> None:
    """Raise StartError where photos cannot be kept as the settings say. A store that is away may come back."""
    try:
        store_of(settings).check()
    except StoreAwayError as error:
        log.warning("%s Everything but photos works meanwhile.", error)
    except StoreError as error:
        raise StartError(str(error)) from error


def look_round(settings: Settings, now: datetime) -> None:
    """Say in the log what is odd about the clock and the database server.

    Files that no row names are not swept here: whoever starts once on an old copy of the database would lose the
    photos that only the new one names.
    """
    engine = make_engine(settings.database)
    with Session(engine) as db:
        said = wrong_clock.at_start(db, now)
        if said:
            log.warning("%s", said)
        if engine.dialect.name == "postgresql" and db.scalar(text("SHOW fsync")) == "off":
            log.warning("The database server runs with fsync off: at a power cut it loses what was saved.")
    engine.dispose()


def addresses(settings: Settings) -> str:
    """Return where the pages are, for whoever started the server."""
    names = ["127.0.0.1"] if settings.is_local else [name for name in settings.hosts if name not in LOOPBACK]
    return " and ".join(f"http://{name}:{settings.port}" for name in names or [settings.host])


def _has_password(settings: Settings) -> bool:
    engine = make_engine(settings.database)
    with Session(engine) as db:
        found = bool(db.scalar(select(func.count()).where(Person.password_hash.is_not(None))))
    engine.dispose()
    return found
