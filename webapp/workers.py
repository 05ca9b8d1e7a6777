"""How gunicorn serves: `gunicorn -c python:webapp.workers`, with `-w 3` for more processes than two.

The settings are those of everything else (webapp/settings.py); what stands here is what gunicorn has beside them.
"""

import multiprocessing
import os
import sys
from typing import Any

from webapp import serving
from webapp.db.instance import database_file
from webapp.db.start import ready
from webapp.db.trouble import StartError
from webapp.settings import SettingError, read
from webapp.web.clock import system

try:
    settings = read()
except SettingError as error:
    sys.exit(str(error))

SEVERAL_NEED = "SQLite serves one process. Set DATABASE_URL to a PostgreSQL server, or start with one: gunicorn -w 1 …"

wsgi_app = "webapp.wsgi:app"
bind = f"[{settings.host}]:{settings.port}" if ":" in settings.host else f"{settings.host}:{settings.port}"
workers = int(os.environ.get("WEB_CONCURRENCY") or 2)
worker_class = "gthread"
threads = settings.threads
preload_app = False  # connections to the database and to the photo store do not survive a fork
graceful_timeout = 60  # a photo on its way over weak Wi-Fi is let in before a stop
keepalive = 5
limit_request_line = 8190  # an address that names hundreds of photos
loglevel = "warning"
control_socket_disable = True  # it wants to write into the home folder, and nobody asks it anything
# which proxies are believed says BENCHTIDE_PROXIES, and only that
forwarded_allow_ips = ""
secure_scheme_headers: dict[str, str] = {}
forwarder_headers = ""


def on_starting(server: Any) -> None:
    """Say once, before there are processes, what stands in the way; and bring the database up to date."""
    try:
        if server.cfg.workers > 1 and database_file(settings.database) is not None:
            raise StartError(SEVERAL_NEED)
        with ready(settings.database, "serve", system()):
            serving.check(settings)
    except StartError as error:
        sys.exit(str(error))
    # what talks to a photo store cannot be forked once it has spoken: a process of its own asks, and ends
    asking = multiprocessing.get_context("fork").Process(target=_ask_store)
    asking.start()
    asking.join()
    if asking.exitcode:
        sys.exit(asking.exitcode)


def _ask_store() -> None:
    try:
        serving.check_store(settings)
    except StartError as error:
        sys.exit(str(error))


def when_ready(_server: Any) -> None:
    sys.stdout.write(f"Benchtide is at {serving.addresses(settings)}\n")
    sys.stdout.flush()
