"""The code by which somebody with an account is taken into one more shop."""

from flask import Blueprint, render_template

from webapp.db.session import session
from webapp.shops.joining import LENGTH, code_of
from webapp.web import guard
from webapp.web.clock import now

part = Blueprint("joining", __name__, url_prefix="/join-code")


@part.get("")
@guard.signed_in
def show() -> str:
    """Show whoever is signed in their own code, in two halves that are easy to read out."""
    code = code_of(session(), guard.visitor().person_id, now())
    return render_template("shops/join_code.html", halves=(code[: LENGTH // 2], code[LENGTH // 2 :]))
