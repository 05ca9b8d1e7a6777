"""benchtide serve: prepare the database and serve the pages."""

import argparse
import logging

import waitress

from webapp import serving
from webapp.app import MEGABYTE, create_app
from webapp.commands import Commands
from webapp.db.start import ready
from webapp.settings import Settings, read
from webapp.web.clock import system


def add(commands: Commands) -> None:
    commands.add_parser("serve", help="prepare the database and serve the pages").set_defaults(run=run)


def run(_found: argparse.Namespace) -> int:
    settings = read()
    with ready(settings.database, "serve", system()):
        serving.check(settings)
        serving.check_store(settings)
        serving.look_round(settings, system())
        _serve(settings)
    return 0


def _serve(settings: Settings) -> None:
    print(f"Benchtide is at {serving.addresses(settings)}", flush=True)
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)
    waitress.serve(
        create_app(settings),
        host=settings.host,
        port=settings.port,
        threads=settings.threads,
        max_request_body_size=2 * settings.max_upload_mb * MEGABYTE,  # the page, not the server, says "too large"
        # the app must see what proxies leave behind: to believe BENCHTIDE_PROXIES of them, and to trust nobody else
        clear_untrusted_proxy_headers=False,
        ident=None,
    )
