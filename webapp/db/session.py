"""One session a request, opened on first use: reading for GET, writing (SQLite: BEGIN IMMEDIATE) for the rest."""

from flask import Flask, current_app, g, request
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session, sessionmaker

from webapp.db import mark

SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


class Sessions:
    """The two kinds of session of one engine."""

    def __init__(self, engine: Engine) -> None:
        self.engine = engine
        self.read = sessionmaker(engine, info={"reads": True})
        self.write = sessionmaker(engine, execution_options={"write": True})
        event.listen(self.write, "before_commit", mark.renew)


def init_app(app: Flask, engine: Engine) -> None:
    app.extensions["sessions"] = Sessions(engine)
    app.teardown_appcontext(_close)


def sessions() -> Sessions:
    found = current_app.extensions["sessions"]
    assert isinstance(found, Sessions)
    return found


def session() -> Session:
    """Return the session of this request."""
    if "session" not in g:
        g.session = sessions().read() if request.method in SAFE else sessions().write()
    found = g.session
    assert isinstance(found, Session)
    return found


def only_reads(db: Session) -> bool:
    """Return whether a session shows what is committed, and nothing that is just being written."""
    return bool(db.info.get("reads"))


def _close(_error: BaseException | None) -> None:
    found = g.pop("session", None)
    if found is not None:
        found.close()
