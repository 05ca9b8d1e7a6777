"""What happened, newest first."""

from flask import Blueprint

room = Blueprint("journal", __name__)


@room.get("/journal")
def index() -> str:
    """What happened, newest first."""
    return ""
