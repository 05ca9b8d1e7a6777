"""Signing in and out. A sign-in is a row: it can be listed, and ended from elsewhere."""

import hashlib
import secrets
from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import cache

from flask import current_app, has_app_context, request
from flask import session as cookie
from sqlalchemy import delete, or_, select, update
from sqlalchemy.orm import Session
from werkzeug.security import check_password_hash, generate_password_hash

from webapp.db.folding import fold
from webapp.db.locks import FIRST_ACCOUNT, come_alone
from webapp.db.session import sessions
from webapp.people import brake
from webapp.people.models import Person, SignIn
from webapp.settings import LOOPBACK, Settings
from webapp.web.text import tidy

LASTS = timedelta(days=400)
SEEN_AGAIN = timedelta(hours=12)
ENDED_KEPT = timedelta(days=30)
MOST_SIGN_INS = 50  # of one person: who comes without a cookie each time must not fill the table
METHOD = "scrypt"  # tests put a cheaper one in its place
SHORTEST_PASSWORD = 10
LONGEST_PASSWORD = 200  # comparing takes longer the longer they are
LONGEST_NAME = 200
ELSEWHERE = ("cross-site", "same-site")
# what proxies leave behind; one that leaves nothing speaks HTTP/1.0, which no browser does
MARKS = ("x-forwarded", "forwarded", "via", "x-real-ip", "x-client-ip", "x-cluster-client-ip", "true-client-ip", "cf-")


def add_person(db: Session, name: str, password: str | None, now: datetime) -> Person:
    """Add an account; without a password it can only be used on the computer the server runs on."""
    person = Person(name=name, folded=fold(name), created_at=now)
    if password:
        set_password(person, password)
    db.add(person)
    db.flush()
    return person


def set_password(person: Person, password: str) -> None:
    person.password_hash = generate_password_hash(tidy(password), _method())


def _method() -> str:
    return str(current_app.config.get("PASSWORD_METHOD", METHOD)) if has_app_context() else METHOD


def person_named(db: Session, name: str) -> Person | None:
    return db.scalar(select(Person).where(Person.folded == fold(name)))


def is_anybody(db: Session) -> bool:
    """Return whether there is any account on this server."""
    return db.scalar(select(Person.id).limit(1)) is not None


def comes_first(db: Session) -> bool:
    """Return whether nobody has an account yet, to one visitor at a time: the next is told when this one is through."""
    come_alone(db, FIRST_ACCOUNT)
    return not is_anybody(db)


def rename(db: Session, person: Person, name: str) -> bool:
    """Give an account another name to sign in by; returns whether the name was free."""
    other = person_named(db, name)
    if other is not None and other.id != person.id:
        return False
    person.name, person.folded = name, fold(name)
    return True


def check_password(person: Person | None, password: str) -> bool:
    """Return whether the password is right, in the same time whether or not there is such a person."""
    known = person.password_hash if person and person.password_hash else _nobodys(_method())
    right = check_password_hash(known, tidy(password))
    return right and person is not None and person.password_hash is not None


@cache
def _nobodys(method: str) -> str:
    return generate_password_hash(secrets.token_hex(16), method)


def knock(name: str, password: str, now: datetime) -> tuple[int | None, bool]:
    """Return the id of the person of that name, or nothing, and whether the password is theirs.

    Raises BrakedError after too many tries. Reads in a session of its own: the slow comparison must not hold the
    database for writing.
    """
    with sessions().read() as db:
        person = person_named(db, name)
        brake.check(db, name, person.id if person else None, now)
    return person.id if person else None, check_password(person, password)


def fault_of(name: str, password: str) -> str:
    """Return why nobody could sign in with these, or nothing."""
    if not name:
        return "The account needs a name."
    if len(name) > LONGEST_NAME:
        return f"A name has at most {LONGEST_NAME} characters."
    if len(tidy(password)) < SHORTEST_PASSWORD:
        return f"At least {SHORTEST_PASSWORD} characters, please."
    if len(tidy(password)) > LONGEST_PASSWORD:
        return f"At most {LONGEST_PASSWORD} characters, please."
    return ""


def begin(db: Session, person: Person, now: datetime) -> SignIn:
    """Begin a sign-in and put its token into the cookie; nothing of what was in the cookie before counts for it."""
    brake.empty_cookie()
    device = request.user_agent.string[:200]
    found = SignIn(person=person, token_hash=_new_token(), device=device, created_at=now, seen_at=now)
    db.add(found)
    db.flush()
    brake.remember_device(person.id)
    _clean_up(db, person.id, now)
    return found


def renew(sign_in: SignIn) -> None:
    """Give this device another token: a copy of its cookie, wherever that went, is worth nothing from now on."""
    sign_in.token_hash = _new_token()
    cookie.pop("csrf_token", None)


def _new_token() -> str:
    token = secrets.token_urlsafe(32)
    cookie["sign_in"] = token
    return hashed(token)


def _clean_up(db: Session, person_id: int, now: datetime) -> None:
    """Let go of what was ended long ago, and end the sign-ins used longest ago where there are too many."""
    over = or_(SignIn.seen_at < now - LASTS, SignIn.ended_at < now - ENDED_KEPT)
    db.execute(delete(SignIn).where(SignIn.person_id == person_id, over))
    for row in standing(db, person_id, now)[MOST_SIGN_INS:]:
        db.delete(row)


def hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def current(db: Session, now: datetime) -> SignIn | None:
    """Return the sign-in of this request's cookie, unless it was ended or has run out."""
    token = cookie.get("sign_in")
    if not token:
        return None
    found = db.scalar(select(SignIn).where(SignIn.token_hash == hashed(str(token)), SignIn.ended_at.is_(None)))
    return found if found and found.seen_at > now - LASTS else None


def standing(db: Session, person_id: int, now: datetime) -> Sequence[SignIn]:
    """Return the sign-ins of a person that still let in, the last used first."""
    found = select(SignIn).where(SignIn.person_id == person_id, SignIn.ended_at.is_(None))
    return db.scalars(found.where(SignIn.seen_at > now - LASTS).order_by(SignIn.seen_at.desc(), SignIn.id.desc())).all()


def end_sign_in(db: Session, key: int, now: datetime) -> None:
    db.execute(update(SignIn).where(SignIn.id == key, SignIn.ended_at.is_(None)).values(ended_at=now))


def end_sign_ins(db: Session, person_id: int, now: datetime, *, but: int | None = None) -> None:
    """End every sign-in of a person, or every other one than `but`."""
    standing = update(SignIn).where(SignIn.person_id == person_id, SignIn.ended_at.is_(None))
    db.execute(standing.where(SignIn.id != but if but is not None else SignIn.id.is_not(None)).values(ended_at=now))


def is_on_this_computer() -> bool:
    """Return whether the visitor sits at the computer the server runs on, with nothing in between."""
    settings = current_app.config["SETTINGS"]
    assert isinstance(settings, Settings)
    return (
        settings.is_local
        and not settings.proxies
        and request.remote_addr in LOOPBACK
        and request.host.rsplit(":", 1)[0] in {"127.0.0.1", "localhost"}
        and request.environ.get("SERVER_PROTOCOL") != "HTTP/1.0"
        and not any(name.lower().startswith(MARKS) for name, _ in request.headers)
        and not _is_put_into_another_site()
    )


def _is_put_into_another_site() -> bool:
    """Whether a page from elsewhere loads this as its picture or frame: that visitor is let in by no cookie."""
    headers = request.headers
    return headers.get("Sec-Fetch-Site") in ELSEWHERE and headers.get("Sec-Fetch-Dest") != "document"


def sole_owner_here(db: Session) -> Person | None:
    """Return the one account there is when it has no password: on its own computer it needs none."""
    people = db.scalars(select(Person).limit(2)).all()
    return people[0] if len(people) == 1 and people[0].password_hash is None else None
