"""Who may do what. Every route is closed to strangers unless its view is marked otherwise."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol, TypeVar
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from flask import Flask, Response, abort, current_app, g, redirect, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf import CSRFProtect
from sqlalchemy import select
from werkzeug.exceptions import NotFound

from webapp.db.session import SAFE, session
from webapp.web import resend

PUBLIC, SIGNED_IN, HELPER, OWNER, TOKEN = "public", "signed-in", "helper", "owner", "token"

LARGEST_KEY = 2**31 - 1  # what an integer column holds
LONGEST_KEY = 10  # digits
OWN_SITE = ("same-origin", "none")

csrf = CSRFProtect()
View = TypeVar("View", bound=Callable[..., Any])


@dataclass(frozen=True)
class ShopFacts:
    """What nearly every page needs of the shop, without asking the database again."""

    id: int
    name: str
    zone: ZoneInfo
    currency: str
    length_unit: str
    temperature_unit: str
    is_invented: bool = False


@dataclass(frozen=True)
class Visitor:
    """Who is asking, and in which shop they stand."""

    person_id: int
    name: str
    sign_in_id: int
    shop_facts: ShopFacts | None = None
    maker_id: int | None = None
    role: str | None = None

    @property
    def shop(self) -> ShopFacts:
        assert self.shop_facts is not None
        return self.shop_facts

    @property
    def zone(self) -> ZoneInfo:
        """The wall clock to show times on: the shop's, or without one that of Greenwich."""
        return self.shop_facts.zone if self.shop_facts else ZoneInfo("UTC")

    @property
    def is_owner(self) -> bool:
        return self.role == OWNER


class Owned(Protocol):
    id: Any
    shop_id: Any


class Named(Owned, Protocol):
    name: Any


Row = TypeVar("Row", bound=Owned)


def public(view: View) -> View:
    """Mark a view that anybody may see."""
    return _mark(view, PUBLIC)


def signed_in(view: View) -> View:
    """Mark a view for anybody who is signed in, with or without a shop."""
    return _mark(view, SIGNED_IN)


def owner(view: View) -> View:
    """Mark a view that only an owner of the shop may use."""
    return _mark(view, OWNER)


def token(view: View) -> View:
    """Mark a view for programs, which looks for their token itself: no cookie counts there, so no form token either."""
    return _mark(view, TOKEN)


def _mark(view: View, access: str) -> View:
    view.access = access  # type: ignore[attr-defined]
    return view


def access_of(endpoint: str) -> str:
    """Return who may use an endpoint: a maker of the shop, unless its view says otherwise."""
    if endpoint == "static":
        return PUBLIC
    return str(getattr(current_app.view_functions[endpoint], "access", HELPER))


def visitor() -> Visitor:
    """Return who is asking; only views behind the guard may call it."""
    found = g.visitor
    assert isinstance(found, Visitor)
    return found


def mine(table: type[Row], key: object) -> Row:
    """Return the row of this shop with that id, or answer 404: what is not yours does not exist."""
    wanted = select(table).where(table.id == _key(table, key), table.shop_id == visitor().shop.id)
    row = session().scalar(wanted)
    return row if row is not None else abort(404)


def is_taken(table: type[Named], name: object, row: Owned | None = None) -> bool:
    """Return whether a row of this shop, another than the one given, has that name already."""
    same = select(table.id).where(table.shop_id == visitor().shop.id, table.name == name)
    others = same if row is None else same.where(table.id != row.id)
    return session().scalar(others.limit(1)) is not None


def _key(table: type[Row], key: object) -> int | str:
    """Return an id as both databases take it; PostgreSQL answers text or too large a number with an error."""
    text = str(key)
    if table.id.type.python_type is not int:
        return text if "\0" not in text else abort(404)
    found = key_of(text)
    return found if found is not None else abort(404)


def key_of(text: str) -> int | None:
    """Return the number that stands in a text, or none where it can be no id."""
    is_whole = text.isascii() and text.isdigit() and len(text) <= LONGEST_KEY
    return int(text) if is_whole and int(text) <= LARGEST_KEY else None


def init_app(app: Flask, identify: Callable[[], Visitor | None]) -> None:
    # the origin is looked at here, on http as well; the strict check of the extension needs a Referer besides
    app.config.update(WTF_CSRF_CHECK_DEFAULT=False, WTF_CSRF_TIME_LIMIT=None, WTF_CSRF_SSL_STRICT=False)
    csrf.init_app(app)

    @app.before_request
    def check() -> ResponseReturnValue | None:
        if request.endpoint is None:
            if isinstance(request.routing_exception, NotFound):
                g.visitor = identify()  # so that the page which says so has its ways on
            return None
        access = access_of(request.endpoint)
        if request.endpoint == "static":
            return None
        _refuse_other_sites()
        if access == TOKEN:
            g.visitor = None
            return None
        g.visitor = identify()
        answer = _let_in(access, g.visitor)
        if answer is None and request.method not in SAFE and app.config.get("WTF_CSRF_ENABLED", True):
            csrf.protect()
        return answer


def _let_in(access: str, who: Visitor | None) -> ResponseReturnValue | None:
    if access == PUBLIC:
        return None
    if who is None:
        return _ask_to_sign_in()
    if access == SIGNED_IN:
        return None
    if who.shop_facts is None:
        return redirect(url_for("shops.start"), 303)
    if access == OWNER and not who.is_owner:
        abort(403)
    return None


def _ask_to_sign_in() -> ResponseReturnValue:
    if request.method in SAFE:
        return redirect(url_for("people.sign_in", next=request.full_path.rstrip("?")), 303)
    return resend.sign_in_first()


def _refuse_other_sites() -> None:
    if request.method not in SAFE and not _is_sent_from_here():
        abort(Response("This form was sent from another site and was not accepted.", 403, mimetype="text/plain"))


def _is_sent_from_here() -> bool:
    """Whether all that the browser says about where a form stood names this server.

    `Origin: null` is what sandboxed frames and files send, never a page of ours. On the shop's network without https
    browsers send an Origin and no Sec-Fetch-Site; what sends none of the three is no browser, and the token decides.
    """
    named = [request.headers[name] for name in ("Origin", "Referer") if name in request.headers]
    return all(_is_here(place) for place in named) and request.headers.get("Sec-Fetch-Site", "none") in OWN_SITE


def _is_here(place: str) -> bool:
    try:
        found = urlsplit(place)
    except ValueError:  # half an IPv6 address, say
        return False
    return found.netloc == request.host and (found.scheme == "https" or not request.is_secure)
