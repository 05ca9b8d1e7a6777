"""The plan, day by day."""

from flask import Blueprint

room = Blueprint("days", __name__)


@room.get("/days")
def show() -> str:
    """The plan, day by day."""
    return ""
