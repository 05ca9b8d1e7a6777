"""Past builds."""

from flask import Blueprint

room = Blueprint("lookback", __name__)


@room.get("/lookback")
def index() -> str:
    """Past builds."""
    return ""
