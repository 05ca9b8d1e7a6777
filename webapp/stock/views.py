"""What was bought."""

from flask import Blueprint

room = Blueprint("stock", __name__)


@room.get("/stock")
def index() -> str:
    """What was bought."""
    return ""
