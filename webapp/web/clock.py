"""The one clock of the app. Tests put another in its place; nothing else reads the time."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from flask import current_app, g, has_request_context


def system() -> datetime:
    return datetime.now(UTC)


def now() -> datetime:
    """Return this moment, aware, in UTC. It is the same all through one request."""
    if has_request_context() and "moment" in g:
        moment = g.moment
    else:
        moment = current_app.config["CLOCK"]()
    if has_request_context():
        g.moment = moment
    assert isinstance(moment, datetime)
    return moment.astimezone(UTC)


def today(zone: str) -> date:
    """Return the date it is at a place."""
    return now().astimezone(ZoneInfo(zone)).date()
