"""Slots on a page that later rooms fill: a build's page shows photos and costs without knowing their rooms.

A slot in a list is filled a row at a time: `looked_up` asks the database once for all, `drawn` takes a macro.
"""

from collections.abc import Callable
from typing import Any

from flask import Flask, current_app, g, get_template_attribute
from markupsafe import Markup
from sqlalchemy.orm import Session

from webapp.db.session import session

Panel = Callable[[Any], str]
LookUp = Callable[[Session, list[Any]], dict[Any, Any]]


def init_app(app: Flask) -> None:
    app.extensions["panels"] = {}
    app.jinja_env.globals["panels"] = filled


def fill(app: Flask, slot: str, *panels: Panel) -> None:
    """Put panels into a slot, in the order in which they appear."""
    app.extensions["panels"].setdefault(slot, []).extend(panels)


def filled(slot: str, subject: Any = None) -> Markup:
    """Return the panels of a slot, rendered for what the page is about."""
    return Markup("").join(Markup(panel(subject)) for panel in current_app.extensions["panels"].get(slot, ()))  # noqa: S704


def looked_up(look_up: LookUp, row: Any) -> Any:
    """Return what belongs to a row. What belongs to the other rows of its kind on this page is looked up with it."""
    known: dict[Any, Any] = g.setdefault("looked_up", {}).setdefault(look_up, {})
    if row.id not in known:
        loaded = [other for other in session().identity_map.values() if isinstance(other, type(row))]
        wanted = [other for other in (row, *loaded) if other.id not in known]
        found = look_up(session(), wanted)
        known.update({other.id: found.get(other.id) for other in wanted})
    return known[row.id]


def drawn(template: str, macro: str, *given: Any, **named: Any) -> str:
    """Return what a macro draws: a template of its own for each line of a list takes several times as long."""
    return str(get_template_attribute(template, macro)(*given, **named))
