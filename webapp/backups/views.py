"""The page that makes a backup and says how old the last one is."""

import logging
import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from tempfile import TemporaryFile
from threading import Lock
from typing import IO

from flask import Blueprint, Response, abort, current_app, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from webapp.backups import actions
from webapp.backups.layout import CHUNK, ArchiveError
from webapp.backups.models import BUTTON
from webapp.backups.snapshot import BackupError, why
from webapp.backups.writing import Report, compose, size_said
from webapp.db.session import session, sessions
from webapp.web.clock import now, today
from webapp.web.files import store
from webapp.web.guard import owner, visitor

room = Blueprint("backups", __name__)
room.add_app_template_filter(size_said)
log = logging.getLogger(__name__)

one_at_a_time = Lock()  # each takes as much of the disk as everything there is
SHOWN = 5
FAILS = (BackupError, ArchiveError, OSError, sqlite3.Error)


@room.get("/backups")
@owner
def show() -> str:
    """Show how old the last backup is, what one holds, and how it is brought back."""
    return _page()


def _page(wrong: str = "") -> str:
    may_make = actions.owns_everything(session(), visitor().person_id)
    # they tell who works in other shops, and how much
    backups = actions.newest(session(), SHOWN) if may_make else []
    return render_template("backups/show.html", backups=backups, may_make=may_make, wrong=wrong)


@room.post("/backups")
@owner
def create() -> ResponseReturnValue:
    """Make a backup of the whole server and send it. No transaction is open until it is made."""
    who = visitor()
    with sessions().read() as db:
        if not actions.owns_everything(db, who.person_id):
            abort(403)
    if not one_at_a_time.acquire(blocking=False):
        flash("A backup is being made already. Try again when it is there.", "bad")
        return redirect(url_for("backups.show"), 303)
    folder = current_app.config["SETTINGS"].instance
    folder.mkdir(parents=True, exist_ok=True)
    file = TemporaryFile(dir=folder)  # noqa: SIM115 - closed when it is sent
    try:
        report = compose(file, sessions().engine, store(), now(), folder)
    except BaseException as error:
        with suppress(OSError):  # a full disk says so again
            file.close()
        if not isinstance(error, FAILS):
            raise
        says = str(error) if isinstance(error, BackupError) else f"No backup was made. {why(error)}"
        log.error("backup: %s", says)
        return _page(says), 503
    finally:
        one_at_a_time.release()
    answer = _answer(file, report)
    actions.note(session(), report, BUTTON, who.name)
    session().commit()
    return answer


def _answer(file: IO[bytes], report: Report) -> Response:
    for name in (*report.missing, *report.damaged):
        log.warning("backup: %s is missing or damaged in the photo store", name)
    name = f"benchtide-{today(visitor().shop.zone.key)}.zip"
    answer = Response(_sent(file), mimetype="application/zip")
    answer.content_length = report.size
    answer.headers.set("Content-Disposition", "attachment", filename=name)
    return answer


def _sent(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        file.seek(0)
        while chunk := file.read(CHUNK):
            yield chunk
