"""A form that could not be taken loses nothing."""

import io
import re

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.web import resend


def test_a_form_from_somebody_signed_out_asks_and_carries(nobody: FlaskClient, db: Session) -> None:
    """SA10: the sign-in ran out while the page stood open all day."""
    factories.person(db, "Ada")
    page = nobody.post("/shop/equipment?x=1", data={"name": 'Press "A" & <b>', "count": "1"})
    assert page.status_code == 401
    assert "sign in, and one tap saves it" in page.text
    assert "Press &#34;A&#34; &amp; &lt;b&gt;" in page.text
    assert 'name="resend_to" value="/shop/equipment?x=1"' in page.text
    assert "choose them again" not in page.text


def test_lost_files_are_said(nobody: FlaskClient, db: Session) -> None:
    factories.person(db, "Ada")
    data = {"name": "Press", "photo": (io.BytesIO(b"x"), "press.jpg")}
    page = nobody.post("/shop/equipment", data=data, content_type="multipart/form-data")
    assert "choose them again" in page.text
    none = {"name": "Press", "photo": (io.BytesIO(b""), "")}
    page = nobody.post("/shop/equipment", data=none, content_type="multipart/form-data")
    assert "choose them again" not in page.text


def test_a_name_of_the_form_does_not_fill_in_the_name_to_sign_in_by(nobody: FlaskClient, db: Session) -> None:
    factories.person(db, "Ada")
    page = nobody.post("/shop/equipment", data={"name": "Press", "count": "1"})
    field = re.search(r'<input[^>]*id="name"[^>]*>', page.text)
    assert field
    assert 'value=""' in field[0]


def test_what_is_packed_comes_out_as_it_went_in() -> None:
    typed = [("name", "é 😆 \\ \" '\n<b>"), ("name", "twice"), ("empty", "")]
    assert resend.unpack(resend.carry(typed, had_files=True)) == (typed, True)


def test_what_cannot_be_unpacked_is_nothing() -> None:
    for text in (None, "", "{", "[]", '"x"', '{"typed": [["a", "b", "c"]], "had_files": true}', '{"typed": {"a": 1}}'):
        assert resend.unpack(text) == ([], False)


def test_passwords_are_secret() -> None:
    assert resend.is_secret("old_password")
    assert not resend.is_secret("name")


@pytest.mark.parametrize(
    "carried", ["[" * 100_000, '{"typed": [["note", "\\ud800"]], "had_files": false}', "[]", '{"typed": 1}']
)
def test_what_nobody_carried_is_left_behind(nobody: FlaskClient, db: Session, carried: str) -> None:
    factories.person(db, "Ada")
    data = {"name": "Ada", "password": "wrong", "carried": carried, "resend_to": "//evil"}
    assert nobody.post("/sign-in", data=data).status_code == 422
