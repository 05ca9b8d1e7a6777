"""All pieces."""

from flask import Blueprint

room = Blueprint("builds", __name__)


@room.get("/builds")
def index() -> str:
    """All pieces."""
    return ""
