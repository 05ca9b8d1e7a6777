"""Photos that are none, or too many: each is named with its reason, and the rest is kept."""

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.photos.sending import jpeg, photos, send
from tests.pictures import scene
from tests.pictures import sent as picture
from webapp.builds.models import Build
from webapp.settings import Settings
from webapp.shops.models import Shop
from webapp.web.files import Store

HTML = b"<html><body><script>alert(1)</script>"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop)


def names(db: Session) -> list[str]:
    return [photo.sent_name for photo in photos(db)]


def test_bad_ones_do_not_stop_the_good_ones(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA03: cut in half, text named .jpg, 0 bytes; two good ones between; the note stays typed."""
    answer = send(
        owner,
        f"builds/{build.id}",
        ("half.jpg", picture(scene(2000, 1500)).getvalue()[:30_000]),
        ("good.jpg", jpeg("green")),
        ("text.jpg", b"only words\n" * 100),
        ("empty.jpg", b""),
        ("good too.png", picture(scene(), "PNG").getvalue()),
        caption="Dovetails, before and after",
    )
    assert answer.status_code == 422
    assert names(db) == ["good.jpg", "good too.png"]
    for name, says in (("half.jpg", "cut off"), ("text.jpg", "text, not a photo"), ("empty.jpg", "empty")):
        line = next(line for line in answer.text.splitlines() if f"<bdi>{name}</bdi>" in line)
        assert says in line
    assert "2 photos of the same sending are stored" in answer.text
    assert answer.text.count("Dovetails, before and after") >= 3  # under both photos, and in the field
    assert "IntegrityError" not in answer.text


def test_all_bad_stores_nothing_and_keeps_the_note(owner: FlaskClient, db: Session, build: Build, store: Store) -> None:
    """SA03: the typed note is not lost."""
    answer = send(owner, f"builds/{build.id}", ("x.jpg", b"words"), caption="Chatter on the third pass")
    assert answer.status_code == 422
    assert "Chatter on the third pass</textarea>" in answer.text
    assert names(db) == []
    assert list(store.kept()) == []


def test_a_page_or_a_drawing_is_no_photo(owner: FlaskClient, db: Session, build: Build, store: Store) -> None:
    """SA18: HTML named .jpg and SVG with script are refused by content, whatever type the browser claims."""
    answer = send(owner, f"builds/{build.id}", ("page.jpg", HTML), ("drawing.svg", SVG), ("drawing.png", SVG))
    assert answer.status_code == 422
    assert answer.text.count("SVG") >= 2
    assert "alert(1)" not in answer.text
    assert names(db) == []
    assert list(store.kept()) == []


def test_a_note_with_markup_is_shown_as_typed(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA18: what was typed is text."""
    send(owner, f"builds/{build.id}", ("a.jpg", jpeg()), caption='<img src=x onerror="alert(1)">')
    page = owner.get(f"/photos/{photos(db)[0].id}").text
    assert "<img src=x" not in page
    assert "&lt;img src=x onerror=" in page


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("фото.jpg", "фото.jpg"),
        ("😆.jpg", "😆.jpg"),
        ("😆", "😆"),
        ("../../etc/passwd", "../../etc/passwd"),
        ("a\u202egpj.exe", "agpj.exe"),
        ("n" * 300 + ".jpg", "n" * 200),
        ("e\u0301bauche.jpg", "ébauche.jpg"),
        ("<b>.jpg", "<b>.jpg"),
    ],
)
def test_a_name_is_kept_as_text_only(
    owner: FlaskClient, db: Session, build: Build, store: Store, name: str, kept: str
) -> None:
    """SA16: stored under names of our own; the name that was sent is shown, escaped and isolated."""
    assert send(owner, f"builds/{build.id}", (name, jpeg())).status_code == 303
    (photo,) = photos(db)
    assert photo.sent_name == kept
    own = [f"{photo.sha256}.{kind}" for kind in ("large.webp", "original", "small.webp")]
    assert sorted(found for found, _ in store.kept()) == own
    shown = kept.replace("<", "&lt;").replace(">", "&gt;")
    assert f"<bdi>{shown}</bdi>" in owner.get(f"/photos/{photo.id}").text


def test_two_files_of_one_name_are_two_photos(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA16: nothing is overwritten."""
    send(owner, f"builds/{build.id}", ("image.jpg", jpeg("green")), ("image.jpg", jpeg("blue")))
    assert names(db) == ["image.jpg", "image.jpg"]


def test_a_thousand_and_one_files_get_a_page(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA04: none is stored, what was typed is kept."""
    answer = send(owner, f"builds/{build.id}", *[("a.jpg", jpeg())] * 1001, caption="All of last year")
    assert answer.status_code == 422
    assert "1001 files were chosen, and at most 100 go at once" in answer.text
    assert "All of last year" in answer.text
    assert names(db) == []


def test_a_text_of_600_000_bytes_gets_a_page_and_is_kept(owner: FlaskClient, db: Session, build: Build) -> None:
    """SA04: more than the framework's own limit for the text of a form with files."""
    answer = send(owner, f"builds/{build.id}", ("a.jpg", jpeg()), caption="w" * 600_000)
    assert answer.status_code == 422
    assert "At most 2000 characters" in answer.text
    assert "w" * 600_000 in answer.text
    assert names(db) == []


@pytest.mark.parametrize("store_kind", ["folder"], indirect=True)
def test_a_disk_that_cannot_be_written_is_said_for_each(
    owner: FlaskClient, db: Session, build: Build, settings: Settings
) -> None:
    settings.instance.mkdir(exist_ok=True)
    settings.photos.write_text("a file where the folder should be")
    answer = send(owner, f"builds/{build.id}", ("a.jpg", jpeg()), caption="Legs")
    assert answer.status_code == 422
    assert "This photo was not stored" in answer.text
    assert names(db) == []


def test_more_than_the_limit_gets_a_page(owner: FlaskClient, app: Flask, db: Session, build: Build) -> None:
    """SA04: the body is over the limit."""
    app.config["MAX_CONTENT_LENGTH"] = 100_000
    answer = send(owner, f"builds/{build.id}", ("a.jpg", jpeg() + bytes(200_000)))
    assert answer.status_code == 413
    assert "Too much at once" in answer.text
    told = send(owner, f"builds/{build.id}", ("a.jpg", jpeg() + bytes(200_000)), json=True)
    assert told.json is not None
    assert "fewer or smaller photos" in told.json["says"]
    assert names(db) == []
