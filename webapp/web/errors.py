"""Pages for what goes wrong: what happened, what to do, a way back."""

import logging

from flask import Flask, Response, g, jsonify, make_response, redirect, render_template, request
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError
from sqlalchemy.exc import DBAPIError, IntegrityError
from sqlalchemy.exc import TimeoutError as PoolTimeoutError
from sqlalchemy.orm.exc import StaleDataError
from werkzeug.exceptions import HTTPException, SecurityError

from webapp.db.session import SAFE, session
from webapp.db.trouble import CLASH, SOON, Trouble, trouble_of
from webapp.web import once, resend
from webapp.web.files import StoreError

log = logging.getLogger(__name__)
FOR_PROGRAMS = "/api/"

TEXTS = {
    400: ("That could not be read", "Something in the address or the form was not as expected. Go back and try again."),
    403: ("Not for you to change", "Only an owner of this shop may do that."),
    404: ("Nothing here", "There is no such page, or it belongs to another shop."),
    405: ("Not like that", "This address does not do that. Go back and use the buttons of the page."),
    413: (
        "Too much at once",
        "More was sent than this server takes, and nothing of it was stored. Send fewer or smaller photos at once.",
    ),
    429: ("Too many tries", "Wait a few minutes, then try again."),
    500: ("Something broke", "It was noted. What was saved before is safe. Go back and try again."),
}
STRANGE_NAME = "Benchtide does not answer to this name. Set BENCHTIDE_TRUSTED_HOSTS to the names it is reached by.\n"


def init_app(app: Flask) -> None:
    app.register_error_handler(CSRFError, _token_gone)
    app.register_error_handler(IntegrityError, _clash)
    app.register_error_handler(StaleDataError, _changed_meanwhile)
    app.register_error_handler(HTTPException, _page)
    for kind in (DBAPIError, PoolTimeoutError, OSError):
        app.register_error_handler(kind, _trouble)


def _token_gone(error: CSRFError) -> ResponseReturnValue:
    if not request.form and not request.files:  # no form of ours: there is nothing to send once more
        return _page(error)
    return resend.again("This page had been open for a long time.")


def _clash(error: IntegrityError) -> ResponseReturnValue:
    session().rollback()
    location = once.answered()
    if location:
        return redirect(location, 303)
    if request.method == "GET":
        raise error
    if _asks_a_program():
        return jsonify(error=CLASH.title, says=CLASH.happened), CLASH.status
    return resend.again(CLASH.happened, CLASH.status)


def _changed_meanwhile(_error: StaleDataError) -> ResponseReturnValue:
    session().rollback()
    return resend.again("Somebody changed the same thing at the same moment.", 409)


def _asks_a_program() -> bool:
    return request.path.startswith(FOR_PROGRAMS) or request.accept_mimetypes.best == "application/json"


def _trouble(error: Exception) -> ResponseReturnValue:
    """Say what is wrong with the disk or the database; a fault of our own goes on to be one."""
    found = _of_store(error) if isinstance(error, StoreError) else trouble_of(error)
    if found is None:
        raise error
    log.error("%s %s (%s %s: %s)", found.happened, found.way_out, request.method, request.path, _cause(error))
    g.visitor = None  # the page that says so must not ask the database who is there
    answer = make_response(_in_trouble(found))
    answer.headers["Retry-After"] = str(found.retry)
    return answer


def _of_store(error: StoreError) -> Trouble:
    return Trouble(503, "Photos cannot be had now", str(error), "Try again in a moment. All else works.", SOON)


def _cause(error: Exception) -> object:
    """Return what the database or the system said, without the words of a maker that were to be stored."""
    return (error.orig if isinstance(error, DBAPIError) else None) or error


def _in_trouble(found: Trouble) -> ResponseReturnValue:
    words = (found.happened, "" if request.method in SAFE else found.saved, found.way_out)
    says = " ".join(word for word in words if word)
    if _asks_a_program():
        return jsonify(error=found.title, says=says), found.status
    if request.method not in SAFE:
        return resend.again(says, found.status)
    page = render_template("errors/page.html", title=found.title, text=says, again=request.full_path.rstrip("?"))
    return page, found.status


def _page(error: HTTPException) -> ResponseReturnValue:
    if isinstance(error.response, Response):
        return error.response
    if isinstance(error, SecurityError):  # without a host to trust there is no address to link to
        return Response(STRANGE_NAME, 400, mimetype="text/plain")
    code = error.code or 500
    title, text = TEXTS.get(code, TEXTS[400 if code < 500 else 500])
    if _asks_a_program():
        return jsonify(error=title, says=text), code
    g.setdefault("visitor", None)
    return make_response(render_template("errors/page.html", title=title, text=text), code)
