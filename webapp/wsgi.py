"""The entry for servers of several processes: `gunicorn -c python:webapp.workers`, which serves `webapp.wsgi:app`.

Each process opens its database, its photo store and the rest for itself, after the fork.
"""

import sys
from collections.abc import Iterable
from contextlib import ExitStack
from typing import TYPE_CHECKING

from webapp import serving
from webapp.app import MEGABYTE, create_app
from webapp.db.start import ready
from webapp.db.trouble import StartError
from webapp.settings import SettingError, read
from webapp.web.clock import system

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

NOT_AGAIN = 4  # gunicorn stops at this instead of starting another process in the place of this one
CHUNK = 1 << 16


class Drained:
    """Takes in what was sent to its end, up to a limit: closed on before, a browser shows no page but a reset line."""

    def __init__(self, app: "WSGIApplication", most: int) -> None:
        self.app, self.most = app, most

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        sent = environ["wsgi.input"]
        answer = self.app(environ, start_response)
        left = self.most
        while left > 0 and (chunk := sent.read(CHUNK)):
            left -= len(chunk)
        return answer


def _made() -> Drained:
    try:
        settings = read()
        held.enter_context(ready(settings.database, "serve", system()))
        serving.check(settings)
        return Drained(create_app(settings), 2 * settings.max_upload_mb * MEGABYTE)
    except (SettingError, StartError) as error:
        sys.stderr.write(f"{error}\n")
        sys.exit(NOT_AGAIN)


held = ExitStack()  # a SQLite file, by this one process, until it ends
app = _made()
