"""Money, build by build."""

from flask import Blueprint

room = Blueprint("costs", __name__)


@room.get("/costs")
def index() -> str:
    """Money, build by build."""
    return ""
