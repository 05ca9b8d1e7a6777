"""The glues and finishes of the shop."""

from flask import Blueprint

room = Blueprint("products", __name__)


@room.get("/products")
def index() -> str:
    """The glues and finishes of the shop."""
    return ""
