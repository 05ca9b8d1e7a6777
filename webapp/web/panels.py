"""Slots on a page that later rooms fill: a build's page shows photos and costs without knowing their rooms."""

from collections.abc import Callable
from typing import Any

from flask import Flask, current_app
from markupsafe import Markup

Panel = Callable[[Any], str]


def init_app(app: Flask) -> None:
    app.extensions["panels"] = {}
    app.jinja_env.globals["panels"] = filled


def fill(app: Flask, slot: str, *panels: Panel) -> None:
    """Put panels into a slot, in the order in which they appear."""
    app.extensions["panels"].setdefault(slot, []).extend(panels)


def filled(slot: str, subject: Any = None) -> Markup:
    """Return the panels of a slot, rendered for what the page is about."""
    return Markup("").join(Markup(panel(subject)) for panel in current_app.extensions["panels"].get(slot, ()))  # noqa: S704
