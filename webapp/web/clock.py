"""The one clock of the app. Tests put another in its place; nothing else reads the time."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from flask import current_app, g, has_request_context

AHEAD = timedelta(minutes=5)  # what the clock of a phone or a sensor may be off


def system() -> datetime:
    return datetime.now(UTC)


def now() -> datetime:
    """Return this moment, aware, in UTC. It is the same all through one request."""
    if not has_request_context():
        moment = current_app.config["CLOCK"]()
    else:
        moment = g.get("moment") or current_app.config["CLOCK"]()
        g.moment = moment
    assert isinstance(moment, datetime)
    return moment.astimezone(UTC)


def today(zone: str) -> date:
    """Return the date it is at a place."""
    return now().astimezone(ZoneInfo(zone)).date()
