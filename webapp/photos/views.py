"""The pictures of the shop."""

from flask import Blueprint

room = Blueprint("photos", __name__)


@room.get("/photos")
def index() -> str:
    """The pictures of the shop."""
    return ""
