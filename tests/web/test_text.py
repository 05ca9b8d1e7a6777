"""Text as it is stored and shown: nothing unseen in it, and nothing that turns the line it stands in."""

import re
from pathlib import Path

import pytest
from flask import Flask, render_template_string
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build
from webapp.db.folding import fold
from webapp.shops.models import Equipment, Shop
from webapp.web.text import isolated, tidy, tidy_line

TEMPLATES = Path(__file__).parent.parent.parent / "templates"
ENGLAND = "\U0001f3f4\U000e0067\U000e0062\U000e0065\U000e006e\U000e0067\U000e007f"


@pytest.mark.parametrize(
    ("typed", "stored"),
    [
        ("  Ash\0 top\x07\x1b\x9b ", "Ash top"),
        ("one\r\ntwo\rthree\u2028four\u2029", "one\ntwo\nthree\nfour"),
        ("e\u0301be\u0300ne", "ébène"),
        ("Ash\ud800", "Ash"),
        ("a\u202egpj.exe", "agpj.exe"),
        ("\u202b\u202a\u202dx\u202c\u2066\u2067\u2068\u2069", "x"),
        ("Sh\u200bo\u00ad\u2060p\ufeff", "Shop"),
        ("Shop\U000e0041", "Shop"),
        ("\u200b\u200e\u2060\u3164\u115f", ""),
        ("\u200d\ufe0f", "\u200d\ufe0f"),  # a mark upon nothing is seen, if only as a ring of dots
    ],
)
def test_what_nobody_sees_is_not_stored(typed: str, stored: str) -> None:
    """SA16, SA21: NUL and other control characters, half characters, overrides and embeddings, zero-width spaces."""
    assert tidy(typed) == stored


@pytest.mark.parametrize(
    "name",
    ["שולחן כתיבה", "طاولة المدخل (٣)", "نمی\u200cخواهم", "Ώδης", "飾り棚", "👩\u200d🔧", ENGLAND, "x\u200f!"],
)
def test_names_of_every_script_are_stored_as_they_are(name: str) -> None:
    """SA16: joiners, marks of direction and the signs of flags belong to real words."""
    assert tidy(name) == name
    assert tidy_line(name) == name


def test_a_name_is_one_line_and_a_note_keeps_its_own(owner: FlaskClient, db: Session) -> None:
    owner.post("/builds", data=typed.build(name="Hall\r\n\ttable", note="first\n\n\tsecond"))
    factories.anew(db)
    build = db.scalars(select(Build)).one()
    assert (build.name, build.note) == ("Hall table", "first\n\n\tsecond")


def test_a_name_nobody_sees_is_no_name(owner: FlaskClient, db: Session) -> None:
    answer = owner.post("/builds", data=typed.build(name="\u200b\u2060\u3164"))
    assert answer.status_code == 422
    assert "The piece needs a name." in answer.text
    factories.anew(db)
    assert db.scalar(select(Build.id)) is None


def test_what_nobody_sees_makes_no_other_name(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """Two names that look alike are one, in lists and in search."""
    for name in ("Long clamps", "Long\u200b clamps\u2060"):
        owner.post("/shop/equipment", data={"name": name, "count": "2"})
    factories.anew(db)
    assert [row.name for row in db.scalars(select(Equipment))] == ["Long clamps"]
    assert fold("o\u200da\u200ek") == "oak"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Hall table", "Hall table"),
        ("Écritoire", "Écritoire"),
        ("שולחן 3", "\u2067שולחן 3\u2069"),
        ("דוד: in hand since 14:18", "\u2067דוד\u2069: in hand since 14:18"),
        ("For דוד כהן, 3 and دانيال.", "For \u2067דוד כהן\u2069, 3 and \u2067دانيال\u2069."),
        ("שורה\nline\nשורה two", "\u2067שורה\u2069\nline\n\u2067שורה\u2069 two"),
        ("old \u202erow", "old row"),
        (7, 7),
    ],
)
def test_right_to_left_stays_within_itself(text: object, shown: object) -> None:
    """SA16: what is so throughout is set so; in a sentence the names alone, and the rest stays where it is."""
    assert isolated(text) == shown


def test_pages_isolate_what_they_show_and_fields_do_not(app: Flask) -> None:
    """What goes back into a form comes out of it as it went in."""
    with app.test_request_context():
        page = render_template_string('{{ x }}|<bdi>{{ x|as_is }}</bdi>|<a title="{{ x }}">', x="<דוד>")
    assert page == '\u2067&lt;דוד&gt;\u2069|<bdi>&lt;דוד&gt;</bdi>|<a title="\u2067&lt;דוד&gt;\u2069">'


def test_a_name_comes_back_from_its_field_as_it_was(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, "שולחן")
    page = owner.get(f"/builds/{build.id}/edit").text
    assert re.search(r'<input[^>]*dir="auto"[^>]*value="שולחן"', page)
    assert "\u2067שולחן\u2069" in page.split("</title>")[0]


def test_no_value_of_a_field_is_isolated() -> None:
    """Texts that are sent along or offered to be chosen are compared with what is stored."""
    pattern = re.compile(r"<(?:input|option|button)\b[^>]*? value=\"{{ (?!csrf_token|url_for)([^}|]*) }}\"")
    allowed = re.compile(r"\.id$|^new_id\(\)$|_value\(\)$|^page|full_path")
    wrong = [
        f"{path.name}: {found}"
        for path in sorted(TEMPLATES.rglob("*.html"))
        for found in pattern.findall(path.read_text(encoding="utf-8"))
        if not allowed.search(found)
    ]
    assert wrong == []
