"""Signing in and out. A sign-in is a row: it can be listed, and ended from elsewhere."""

import hashlib
import secrets
from datetime import datetime, timedelta

from flask import current_app, has_app_context, request
from flask import session as cookie
from sqlalchemy import func, select
from sqlalchemy.orm import Session
from werkzeug.security import check_password_hash, generate_password_hash

from webapp.db.folding import fold
from webapp.people.models import LoginTry, Person, SignIn
from webapp.settings import LOOPBACK, Settings

LASTS = timedelta(days=400)
SEEN_AGAIN = timedelta(hours=12)
TRIES = 8
WITHIN = timedelta(minutes=10)
METHOD = "scrypt"  # tests put a cheaper one in its place
FORWARDED = ("Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "X-Real-Ip")


def add_person(db: Session, name: str, password: str | None, now: datetime) -> Person:
    """Add an account; without a password it can only be used on the computer the server runs on."""
    person = Person(name=name, folded=fold(name), created_at=now)
    if password:
        set_password(person, password)
    db.add(person)
    db.flush()
    return person


def set_password(person: Person, password: str) -> None:
    person.password_hash = generate_password_hash(password, _method())


def _method() -> str:
    return str(current_app.config.get("PASSWORD_METHOD", METHOD)) if has_app_context() else METHOD


def person_named(db: Session, name: str) -> Person | None:
    return db.scalar(select(Person).where(Person.folded == fold(name)))


def check_password(person: Person | None, password: str) -> bool:
    """Return whether the password is right, in the same time whether or not there is such a person."""
    known = person.password_hash if person and person.password_hash else _nobody()
    right = check_password_hash(known, password)
    return right and person is not None and person.password_hash is not None


def _nobody() -> str:
    return generate_password_hash(secrets.token_hex(16), _method())


def is_braked(db: Session, name: str, address: str, now: datetime) -> bool:
    """Return whether there were too many failed tries for this name or from this address."""
    for column, value in ((LoginTry.folded, fold(name)), (LoginTry.address, address)):
        count = select(func.count()).where(column == value, LoginTry.at > now - WITHIN)
        if (db.scalar(count) or 0) >= TRIES:
            return True
    return False


def note_failure(db: Session, name: str, address: str, now: datetime) -> None:
    db.add(LoginTry(folded=fold(name), address=address, at=now))


def begin(db: Session, person: Person, now: datetime) -> SignIn:
    """Begin a sign-in and put its token into the cookie."""
    token = secrets.token_urlsafe(32)
    device = request.user_agent.string[:200]
    found = SignIn(person=person, token_hash=hashed(token), device=device, created_at=now, seen_at=now)
    db.add(found)
    db.flush()
    cookie.clear()
    cookie.permanent = True
    cookie["sign_in"] = token
    return found


def hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def current(db: Session, now: datetime) -> SignIn | None:
    """Return the sign-in of this request's cookie, unless it was ended or has run out."""
    token = cookie.get("sign_in")
    if not token:
        return None
    found = db.scalar(select(SignIn).where(SignIn.token_hash == hashed(str(token)), SignIn.ended_at.is_(None)))
    return found if found and found.seen_at > now - LASTS else None


def is_on_this_computer() -> bool:
    """Return whether the visitor sits at the computer the server runs on, with nothing in between."""
    settings = current_app.config["SETTINGS"]
    assert isinstance(settings, Settings)
    host = request.host.rsplit(":", 1)[0]
    return (
        settings.is_local
        and request.remote_addr in LOOPBACK
        and host in {"127.0.0.1", "localhost"}
        and not any(name in request.headers for name in FORWARDED)
    )


def sole_owner_here(db: Session) -> Person | None:
    """Return the one account there is when it has no password: on its own computer it needs none."""
    people = db.scalars(select(Person).limit(2)).all()
    return people[0] if len(people) == 1 and people[0].password_hash is None else None
