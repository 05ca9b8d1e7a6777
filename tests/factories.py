"""Rows for tests, each with sensible values for what the test does not care about. All commit."""

import hashlib
from datetime import UTC, datetime
from itertools import count
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session
from werkzeug.security import generate_password_hash

from webapp.builds.models import Build, Link, Operation
from webapp.db.folding import fold
from webapp.journal.models import Entry
from webapp.people.models import Person, SignIn
from webapp.products.models import GLUE, Figures, Product
from webapp.shops.models import OWNER, Maker, Opening, Room, Shop

LONG_AGO = datetime(2025, 1, 1, tzinfo=UTC)
number = count(1)


def anew(db: Session) -> None:
    """Look at what is stored now, not at what was read before a request."""
    db.rollback()
    db.expire_all()


def shop(db: Session, name: str = "Two Bench Shop", **values: Any) -> Shop:
    """A shop in New York, open on weekdays from 8 to 17, inches and °F."""
    found = Shop(
        **{
            "name": name,
            "time_zone": "America/New_York",
            "currency": "USD",
            "length_unit": "in",
            "temperature_unit": "F",
            "created_at": LONG_AGO,
            **values,
        }
    )
    db.add(found)
    db.flush()
    db.add(Room(shop_id=found.id, name="Shop"))
    db.add_all(Opening(shop_id=found.id, weekday=day, opens=8 * 60, closes=17 * 60) for day in range(5))
    db.commit()
    return found


def person(db: Session, name: str) -> Person:
    found = _person(db, name)
    db.commit()
    return found


def _person(db: Session, name: str) -> Person:
    found = db.scalar(select(Person).where(Person.folded == fold(name)))
    if found is None:
        found = Person(name=name, folded=fold(name), password_hash="pbkdf2:sha256:1$x$00", created_at=LONG_AGO)
        db.add(found)
        db.flush()
    return found


def give_password(db: Session, name: str, password: str) -> Person:
    found = person(db, name)
    found.password_hash = generate_password_hash(password, "pbkdf2:sha256:1")
    db.commit()
    return found


def maker(db: Session, shop: Shop, name: str, role: str = OWNER, *, signs_in: bool = True) -> Maker:
    found = _maker(db, shop, name, role, signs_in)
    db.commit()
    return found


def _maker(db: Session, shop: Shop, name: str, role: str, signs_in: bool) -> Maker:
    found = db.scalar(select(Maker).where(Maker.shop_id == shop.id, Maker.name == name))
    if found is None:
        who = _person(db, name).id if signs_in else None
        found = Maker(shop_id=shop.id, person_id=who, name=name, role=role)
        db.add(found)
        db.flush()
    return found


def client_of(app: Flask, db: Session, shop: Shop, name: str, role: str = OWNER) -> FlaskClient:
    """A browser in which that person is signed in and stands in the shop."""
    who, shop_id = _maker(db, shop, name, role, signs_in=True), shop.id
    token = f"token-{next(number)}"
    hashed = hashlib.sha256(token.encode()).hexdigest()
    seen = app.config["CLOCK"]()
    db.add(SignIn(person_id=who.person_id, token_hash=hashed, device="test", created_at=seen, seen_at=seen))
    db.commit()
    client = app.test_client()
    with client.session_transaction() as cookie:
        cookie["sign_in"] = token
        cookie["shop"] = shop_id
    return client


def build(db: Session, shop: Shop, name: str = "Hall table", **values: Any) -> Build:
    found = Build(**{"shop_id": shop.id, "name": name, "status": "in the making", "created_at": LONG_AGO, **values})
    db.add(found)
    db.commit()
    return found


def operation(db: Session, build: Build, key: str = "mill", *, after: Any = (), **values: Any) -> Operation:
    """An operation at the end of the build; `after` lists operations or (operation, stage)."""
    found = Operation(
        **{
            "shop_id": build.shop_id,
            "build_id": build.id,
            "key": key,
            "name": key.capitalize(),
            "kind": key,
            "position": next(number),
            "minutes": 60,
            **values,
        }
    )
    for one in after:
        waits_for, stage = one if isinstance(one, tuple) else (one, None)
        found.after.append(Link(waits_for_id=waits_for.id, stage=stage))
    db.add(found)
    db.commit()
    return found


def product(db: Session, shop: Shop, name: str = "yellow PVA", use: str = GLUE, **data: Any) -> Product:
    figures = {"stages": [{"name": "out of clamps", "hours": 1}, {"name": "full strength", "hours": 24}], **data}
    found = Product(shop_id=shop.id, name=name, family=name, use=use)
    found.figures.append(Figures(number=1, data=figures, source="common practice, no source", at=LONG_AGO))
    db.add(found)
    db.commit()
    return found


def entry(db: Session, maker: Maker, kind: str, at: datetime, *, on: Any = None, **data: Any) -> Entry:
    """A line of the journal, on an operation, a build or neither."""
    operation_id = on.id if isinstance(on, Operation) else None
    build_id = on.build_id if isinstance(on, Operation) else on.id if on is not None else None
    found = Entry(
        id=f"entry-{next(number)}",
        shop_id=maker.shop_id,
        build_id=build_id,
        operation_id=operation_id,
        maker_id=maker.id,
        kind=kind,
        at=at,
        arrived_at=at,
        data=data,
    )
    db.add(found)
    db.commit()
    return found
