"""A form sent twice is stored once: each form carries a key, and the key with what was typed names the answer."""

import hashlib
from collections.abc import Callable
from functools import wraps
from typing import BinaryIO, TypeVar, cast
from uuid import uuid4

from flask import g, redirect, request
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.receipt import Receipt
from webapp.db.session import session
from webapp.web.clock import now
from webapp.web.files import name_of

View = TypeVar("View", bound=Callable[..., ResponseReturnValue])


def new_key() -> str:
    return uuid4().hex


def key() -> str | None:
    """Return the key of this form as filled in; the same page filled in otherwise, or with other files, is another."""
    if not request.form.get("once"):
        return None
    if "once_key" not in g:
        typed = sorted((name, value) for name, value in request.form.items(multi=True) if name != "csrf_token")
        files = sorted(
            (name, name_of(cast(BinaryIO, file.stream)))
            for name, file in request.files.items(multi=True)
            if file.filename
        )
        g.once_key = hashlib.sha256(repr((request.path, typed, *files)).encode()).hexdigest()
    return str(g.once_key)


def answered() -> str | None:
    """Return where this form led when it was sent before."""
    found = key()
    return session().scalar(select(Receipt.location).where(Receipt.key == found)) if found else None


def once(view: View) -> View:
    """Answer a form that was sent before as it was answered then, without doing it again."""

    @wraps(view)
    def guarded(*args: object, **values: object) -> ResponseReturnValue:
        location = answered()
        if location:
            return redirect(location, 303)
        answer = view(*args, **values)
        if isinstance(answer, tuple):  # refused: perhaps because its twin of this very moment has just been stored
            session().rollback()
            location = answered()
        return redirect(location, 303) if location else answer

    return guarded  # type: ignore[return-value]


def keep(location: str) -> str:
    """Note where this form leads, in the same transaction as what it does; return the location."""
    found = key()
    if found:
        who = g.get("visitor")
        shop_id = who.shop_facts.id if who and who.shop_facts else None
        session().add(Receipt(key=found, shop_id=shop_id, location=location, at=now()))
    return location
