"""The one place that knows every room."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from flask import Blueprint, Flask
from jinja2 import StrictUndefined
from sqlalchemy import Engine
from werkzeug.middleware.proxy_fix import ProxyFix
from werkzeug.routing import IntegerConverter

from webapp.backups import panels as backups_panels
from webapp.backups.views import room as backups
from webapp.bench.views import room as bench
from webapp.builds.views import room as builds
from webapp.costs import panels as costs_panels
from webapp.costs.views import room as costs
from webapp.days import panel as days_panel
from webapp.days.views import room as days
from webapp.db import session as db_session
from webapp.db.engine import MOST_OPEN, make_engine
from webapp.exports import panels as exports_panels
from webapp.exports.views import room as exports
from webapp.invented import panels as invented_panels
from webapp.invented.views import room as invented
from webapp.journal import panels as journal_panels
from webapp.journal import wrong_clock
from webapp.journal.closing_views import closing_panel
from webapp.journal.views import room as journal
from webapp.lookback.views import room as lookback
from webapp.moisture import panels as moisture_panels
from webapp.moisture.views import room as moisture
from webapp.people.views import room as people
from webapp.photos import panels as photos_panels
from webapp.photos.views import room as photos
from webapp.products.actions import seed
from webapp.products.views import room as products
from webapp.settings import Settings, asset_dir
from webapp.shops.actions import identify
from webapp.shops.panel import air_panel, head_panel, person_panel
from webapp.shops.views import room as shops
from webapp.sizes import panels as sizes_panels
from webapp.sizes.views import room as sizes
from webapp.stock.views import room as stock
from webapp.trade.cautions.caution import FOLLOW
from webapp.web import (
    addresses,
    answering,
    clock,
    controls,
    errors,
    filters,
    guard,
    headers,
    packing,
    panels,
    static,
    text,
)
from webapp.web.bodies import Request
from webapp.web.cookies import Cookies
from webapp.web.secret import secret_of

MEGABYTE = 1024 * 1024
# from the lowest to the highest: a room may use the models of those before it
ROOMS: tuple[Blueprint, ...] = (
    people,
    shops,
    products,
    builds,
    journal,
    sizes,
    photos,
    stock,
    moisture,
    costs,
    days,
    bench,
    lookback,
    backups,
    exports,
    invented,
)
PANELS: dict[str, tuple[panels.Panel, ...]] = {
    "head": (head_panel,),
    "page": (wrong_clock.clock_panel,),
    "person": (person_panel, exports_panels.person_panel),
    "build": (
        journal_panels.journal_panel,
        photos_panels.build_panel,
        moisture_panels.build_panel,
        costs_panels.build_panel,
    ),
    "build_work": (sizes_panels.build_panel,),
    "build_top": (journal_panels.top_panel, journal_panels.curing_panel, days_panel.stick_panel),
    "build_line": (days_panel.next_date,),
    "stock": (moisture_panels.stock_panel,),
    "material": (moisture_panels.material_panel,),
    "parts": (moisture_panels.parts_panel,),
    "sizes": (moisture_panels.sizes_panel,),
    "build_cover": (photos_panels.cover_panel,),
    "operation_line": (
        journal_panels.before_panel,
        journal_panels.operation_panel,
        journal_panels.glue_panel,
    ),
    "heating": (journal_panels.heating_panel,),
    "operation_more": (journal_panels.more_panel, photos_panels.line_panel),
    "entry": (photos_panels.entry_panel,),
    "bench_top": (closing_panel,),
    "bench": (air_panel, moisture_panels.bench_panel, backups_panels.bench_panel),
    "shop": (backups_panels.shop_panel, exports_panels.shop_panel),
    "build_end": (exports_panels.build_panel,),
    "start": (invented_panels.offer_panel, exports_panels.start_panel),
    "invented": (invented_panels.line_panel,),
}


class Key(IntegerConverter):
    """A number in an address. What no row can have as its id is not found, before a database stumbles over it."""

    def __init__(self, *args: Any, **values: Any) -> None:
        super().__init__(*args, **{"max": guard.LARGEST_KEY, **values})


def create_app(
    settings: Settings, *, engine: Engine | None = None, now: Callable[[], datetime] = clock.system
) -> Flask:
    """Return the app for these settings; tests pass an engine and a clock of their own."""
    app = Flask("webapp", template_folder=str(asset_dir("templates")), static_folder=None)
    _configure(app, settings, now)
    app.request_class = Request
    app.url_map.converters["int"] = Key
    most_open = max(MOST_OPEN, 2 * settings.threads)  # a request holds one connection, for moments two
    db_session.init_app(app, engine or make_engine(settings.database, most_open=most_open))
    for part in (answering, panels, filters, controls, headers, errors, text, static, packing, addresses):
        part.init_app(app)
    guard.init_app(app, identify)
    for room in ROOMS:
        app.register_blueprint(room)
    app.extensions["new_shop"] = (seed,)
    for slot, found in PANELS.items():
        panels.fill(app, slot, *found)
    if settings.proxies:
        count = settings.proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=count, x_proto=count, x_host=count)  # type: ignore[method-assign]
    return app


def _configure(app: Flask, settings: Settings, now: Callable[[], datetime]) -> None:
    app.config.update(
        SETTINGS=settings,
        CLOCK=now,
        SECRET_KEY=secret_of(settings),
        TRUSTED_HOSTS=settings.hosts,
        MAX_CONTENT_LENGTH=settings.max_upload_mb * MEGABYTE,
        MAX_FORM_MEMORY_SIZE=8 * MEGABYTE,
        MAX_FORM_PARTS=2000,
        SESSION_COOKIE_NAME="benchtide",
        SESSION_COOKIE_SAMESITE="Lax",
        PERMANENT_SESSION_LIFETIME=400 * 24 * 3600,
    )
    app.session_interface = Cookies()
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.globals.update(now=clock.now, follow=FOLLOW)
