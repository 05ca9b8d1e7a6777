"""The page of now."""

from flask import Blueprint

room = Blueprint("bench", __name__)


@room.get("/")
def show() -> str:
    """The page of now."""
    return ""
