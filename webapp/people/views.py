"""Coming in and going out."""

from flask import Blueprint

from webapp.web import guard

room = Blueprint("people", __name__)


@room.get("/sign-in")
@guard.public
def sign_in() -> str:
    """Ask who is there."""
    return ""


@room.get("/sign-ins")
@guard.signed_in
def sign_ins() -> str:
    """Show where somebody is signed in."""
    return ""


@room.post("/theme")
@guard.public
def theme() -> str:
    """Choose day or evening."""
    return ""
