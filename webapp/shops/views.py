"""The shop's own page."""

from flask import Blueprint

from webapp.web import guard

room = Blueprint("shops", __name__)


@room.get("/shop")
@guard.owner
def show() -> str:
    """Show the shop and all its settings."""
    return ""


@room.get("/start")
@guard.signed_in
def start() -> str:
    """Offer to look round or to start a shop."""
    return ""
