"""Somebody with an account on the server is taken into one more shop, by a code that only they can see."""

import re

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import Clock
from webapp.people.models import Person
from webapp.shops.models import HELPER, Maker, Shop


@pytest.fixture
def cleo(db: Session, shop: Shop) -> Maker:
    """The maker in our shop whose account stands in another."""
    return factories.maker(db, shop, "Cleo B.", HELPER, signs_in=False)


def code(client: FlaskClient) -> str:
    found = re.search(r"<code>([0-9A-Z ]+)</code>", client.get("/join-code").text)
    assert found
    return found[1]


def join(owner: FlaskClient, maker: Maker, name: str, typed: str) -> tuple[int, str]:
    answer = owner.post(f"/shop/makers/{maker.id}/account/join", data={"joining_name": name, "code": typed})
    return answer.status_code, answer.text


def person_of(db: Session, maker: Maker) -> int | None:
    factories.anew(db)
    return db.get_one(Maker, maker.id).person_id


@pytest.mark.parametrize("change", [str, str.lower, lambda text: text.replace(" ", "-"), lambda text: f" {text} "])
def test_name_and_code_let_in(owner: FlaskClient, stranger: FlaskClient, db: Session, cleo: Maker, change) -> None:  # type: ignore[no-untyped-def]
    assert join(owner, cleo, "cleo", change(code(stranger)))[0] == 303
    assert "Two Bench Shop" in stranger.get("/sign-ins").text
    assert stranger.post(f"/shops/{cleo.shop_id}/enter").status_code == 303
    assert stranger.get("/shop").status_code == 403  # a helper here, and an owner there


def test_a_code_serves_once(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop, cleo: Maker) -> None:
    shown = code(stranger)
    assert join(owner, cleo, "Cleo", shown)[0] == 303
    factories.anew(db)
    other = factories.maker(db, shop, "Dan", HELPER, signs_in=False)
    assert join(owner, other, "Cleo", shown)[0] == 422
    assert person_of(db, other) is None


def test_a_code_holds_for_half_an_hour(owner: FlaskClient, stranger: FlaskClient, cleo: Maker, clock: Clock) -> None:
    shown = code(stranger)
    clock.forward(hours=1, seconds=1)
    assert join(owner, cleo, "Cleo", shown)[0] == 422
    shown = code(stranger)
    clock.forward(minutes=29)
    assert join(owner, cleo, "Cleo", shown)[0] == 303


def test_an_owner_who_tries_names_learns_of_none(
    owner: FlaskClient, stranger: FlaskClient, db: Session, cleo: Maker
) -> None:
    """A name that is there and one that is not, a wrong code and the code of somebody else."""
    theirs, own = code(stranger), code(owner)
    tries = [("Cleo", "00000 00000"), ("Nobody", "00000 00000"), ("Nobody", theirs), ("Cleo", own)]
    told = [join(owner, cleo, *one) for one in tries]
    said = [re.sub(r'value="[^"]*"', "", text.split("<main")[1]) for _, text in told]
    assert {status for status, _ in told} == {422}
    assert len(set(said)) == 1
    assert "do not go together" in said[0]
    assert person_of(db, cleo) is None


def test_nobody_takes_over_the_account(owner: FlaskClient, stranger: FlaskClient, db: Session, cleo: Maker) -> None:
    """With it an owner of this shop could walk into the other one: now, or when somebody who left comes back there."""
    join(owner, cleo, "Cleo", code(stranger))
    factories.anew(db)
    before = factories.person(db, "Cleo").password_hash
    typed = {"sign_in_name": "Mine now", "password": "rabbet block maple"}
    assert owner.post(f"/shop/makers/{cleo.id}/account", data=typed).status_code == 403
    factories.anew(db)
    elsewhere = next(row for row in db.query(Maker).all() if row.shop_id != cleo.shop_id)
    elsewhere.left_on = cleo.left_on or elsewhere.left_on or factories.LONG_AGO.date()
    db.commit()
    assert owner.post(f"/shop/makers/{cleo.id}/account", data=typed).status_code == 403
    factories.anew(db)
    assert factories.person(db, "Cleo").password_hash == before


def test_whoever_signs_in_already_is_not_joined_to_another(
    owner: FlaskClient, stranger: FlaskClient, helper: FlaskClient, db: Session, shop: Shop
) -> None:
    ben = factories.maker(db, shop, "Ben", HELPER)
    kept = ben.person_id
    assert join(owner, ben, "Cleo", code(stranger))[0] == 303
    assert "Ben can sign in already." in owner.get(f"/shop/makers/{ben.id}").text
    assert person_of(db, ben) == kept


def test_the_same_account_stands_once_in_a_shop(owner: FlaskClient, db: Session, cleo: Maker) -> None:
    status, text = join(owner, cleo, "Ada", code(owner))
    assert status == 422
    assert "belongs to somebody on your list already" in text


@pytest.mark.parametrize(
    ("name", "typed"), [("", "00000"), ("Cleo", ""), ("Cleo", "é😆\u202e"), ("x" * 300, "y" * 300)]
)
def test_what_is_missing_or_no_code_is_said(
    owner: FlaskClient, db: Session, cleo: Maker, name: str, typed: str
) -> None:
    assert join(owner, cleo, name, typed)[0] == 422
    assert person_of(db, cleo) is None


def test_a_helper_and_a_stranger_join_nobody(
    helper: FlaskClient, stranger: FlaskClient, app: Flask, db: Session, cleo: Maker
) -> None:
    assert join(helper, cleo, "Cleo", code(stranger))[0] == 403
    assert join(stranger, cleo, "Cleo", code(stranger))[0] == 404
    assert app.test_client().get("/join-code").status_code == 303
    assert db.query(Person).count() == 2
