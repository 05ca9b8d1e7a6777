"""The brake on guessing passwords: eight wrong tries in ten minutes for a name, from an address, or on a known device.

A device on which somebody has signed in before is counted by itself for that person. So a stranger who guesses at a
name keeps its owner out of new devices only, and of those no longer than the guessing goes on and ten minutes more.
"""

import secrets
from datetime import datetime, timedelta
from ipaddress import IPv6Address, ip_address

from flask import request
from flask import session as cookie
from sqlalchemy import ColumnElement, delete, func, select
from sqlalchemy.orm import Session

from webapp.db.folding import fold
from webapp.people.models import LoginTry

TRIES = 8
WITHIN = timedelta(minutes=10)
KEPT = timedelta(days=1)
MOST = 10_000  # rows, whatever comes in
KNOWN = 5  # people of whom a shared device is remembered
SUBSCRIBER = 64  # bits of an IPv6 address: the rest anybody chooses anew for each try


class BrakedError(ValueError):
    """Too many wrong tries; the text says what to do."""


def place(address: str | None) -> str:
    """Return what tries from an address are counted under.

    >>> place("192.168.1.20"), place("2001:db8:1:2:3:4:5:6"), place("::ffff:192.168.1.20"), place(None)
    ('192.168.1.20', '2001:db8:1:2::/64', '192.168.1.20', '')
    """
    try:
        found = ip_address((address or "").partition("%")[0])
    except ValueError:
        return (address or "")[:100]
    if not isinstance(found, IPv6Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    network = int(found) >> (128 - SUBSCRIBER) << (128 - SUBSCRIBER)
    return f"{IPv6Address(network)}/{SUBSCRIBER}"


def check(db: Session, name: str, person_id: int | None, now: datetime) -> None:
    """Raise BrakedError after too many failed tries: on this device if it is known, else for the name or from here."""
    if _knows(person_id):
        counted = [LoginTry.address == _device()]
    else:
        counted = [LoginTry.folded == fold(name), LoginTry.address == place(request.remote_addr)]
    for condition in counted:
        _check(db, condition, now)


def check_token(db: Session, name: str, now: datetime) -> None:
    """Raise BrakedError after too many wrong tokens for what bears this name, from here.

    Not counted with passwords: a thermometer with an old token must keep nobody from signing in beside it.
    """
    _check(db, LoginTry.address == _token_place(name), now)


def _check(db: Session, condition: ColumnElement[bool], now: datetime) -> None:
    tries = db.scalar(select(func.count()).where(condition, LoginTry.at > now - WITHIN))
    if (tries or 0) >= TRIES:
        raise BrakedError("Too many tries. Wait ten minutes, then try again.")


def note_failure(db: Session, name: str, person_id: int | None, now: datetime) -> None:
    """Keep a failed try, and let go of old ones."""
    _note(db, fold(name), _device() if _knows(person_id) else place(request.remote_addr), now)


def note_wrong_token(db: Session, name: str, now: datetime) -> None:
    """Keep that a wrong token was sent for what bears this name."""
    _note(db, "", _token_place(name), now)


def _note(db: Session, folded: str, where: str, now: datetime) -> None:
    newest = select(func.max(LoginTry.id)).scalar_subquery()
    db.execute(delete(LoginTry).where((LoginTry.at < now - KEPT) | (LoginTry.id < newest + 2 - MOST)))
    db.add(LoginTry(folded=folded, address=where, at=now))


def _token_place(name: str) -> str:
    return f"token {name} {place(request.remote_addr)}"


def forget_failures(db: Session, name: str) -> None:
    db.execute(delete(LoginTry).where(LoginTry.folded == fold(name)))


def remember_device(person_id: int) -> None:
    """Note in the cookie that this person has signed in on this device."""
    others = [found for found in cookie.get("known", ()) if found != person_id]
    cookie["known"] = [*others[1 - KNOWN :], person_id]
    cookie.setdefault("device", secrets.token_urlsafe(9))


def empty_cookie() -> None:
    """Take everything out of the cookie but who has signed in on this device before."""
    kept = {name: cookie[name] for name in ("known", "device") if name in cookie}
    cookie.clear()
    cookie.update(kept)
    cookie.permanent = True


def _knows(person_id: int | None) -> bool:
    return person_id is not None and "device" in cookie and person_id in cookie.get("known", ())


def _device() -> str:
    return f"device {cookie['device']}"
