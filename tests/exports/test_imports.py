"""Putting a file in: who may, what becomes of it, what is said, and that nothing of anybody else comes along."""

import hashlib
import json
from copy import deepcopy
from io import BytesIO
from typing import Any
from zipfile import ZipFile

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select, update
from sqlalchemy.orm import Session

from tests import factories
from tests.exports.sample import ONE_DATABASE, PIECE, TAIL, Sample, got, put
from tests.photos.sending import jpeg, send
from webapp.builds.models import Build, Operation
from webapp.exports.taking_out import File
from webapp.journal.models import Entry
from webapp.people.models import Person
from webapp.photos.models import Photo
from webapp.products.models import Product
from webapp.shops.models import OWNER, Maker, Shop
from webapp.web.files import Store


@pytest.fixture
def euros(db: Session, shop: Shop) -> Shop:
    """A shop that builds of the sample may come into."""
    shop.currency = "EUR"
    db.commit()
    return shop


def count(db: Session, table: Any) -> int:
    db.rollback()
    return int(db.scalar(select(func.count()).select_from(table)) or 0)


def zipped(file: File, pictures: dict[str, bytes]) -> bytes:
    out = BytesIO()
    with ZipFile(out, "w") as archive:
        archive.writestr("benchtide.json", json.dumps(file))
        for sha256, content in pictures.items():
            archive.writestr(f"pictures/{sha256}.webp", content)
    return out.getvalue()


def bare(file: File) -> File:
    """The same without its photos, for tests that are not about them."""
    found: File = {**deepcopy(file), "photos": [], "journal": []}
    for build in found["builds"]:
        build.pop("photos", None)
        build["journal"] = [line for line in build["journal"] if "photo" not in line["key"]]
        for material in build["materials"]:
            material.pop("receipt", None)
    return found


def test_the_first_visitor_may_bring_a_shop_along(sample: Sample, nobody: FlaskClient, db: Session) -> None:
    assert "Bring a shop along" in nobody.get("/start").text
    assert "Put it in" in nobody.get("/imports").text
    answer = put(nobody, sample.archive, "a.zip")
    assert (answer.status_code, answer.location) == (303, "/")
    said = nobody.get("/").text
    assert "The Owlgate shop</bdi> is in</b>: 9 builds, 5 photos." in said
    assert "You stand in it as" in said
    person = db.scalars(select(Person)).one()
    mine = db.scalars(select(Maker).where(Maker.person_id == person.id)).one()
    assert (mine.name, mine.role, person.password_hash) == (person.name, OWNER, None)
    assert db.scalars(select(Maker.person_id).where(Maker.name == f"Ada {TAIL}")).one() is None


@ONE_DATABASE
def test_nobody_may_once_there_are_accounts(sample: Sample, nobody: FlaskClient, owner: FlaskClient) -> None:
    assert nobody.get("/imports").status_code == 303
    assert put(nobody, sample.shop).status_code == 403


def test_a_shop_becomes_one_more_of_whoever_sends_it(sample: Sample, helper: FlaskClient, db: Session) -> None:
    """A helper too may have a shop of their own, as on the page that starts one."""
    assert put(helper, sample.shop).status_code == 303
    assert helper.get("/shop").status_code == 200
    factories.anew(db)
    ben = db.scalars(select(Person).where(Person.name == "Ben")).one()
    roles = dict(db.execute(select(Shop.name, Maker.role).join(Maker).where(Maker.person_id == ben.id)).all())
    assert roles == {"Two Bench Shop": "helper", "The Owlgate shop": "owner"}


def test_sent_twice_is_once_and_another_file_is_another(sample: Sample, owner: FlaskClient, db: Session) -> None:
    first = put(owner, sample.shop)
    assert put(owner, sample.shop).location == first.location == "/"
    assert count(db, Shop) == 2
    assert put(owner, {**json.loads(sample.shop), "version": "0"}).status_code == 303
    assert count(db, Shop) == 3


@ONE_DATABASE
def test_who_owns_a_shop_without_an_owner(sample: Sample, owner: FlaskClient, db: Session) -> None:
    file = json.loads(sample.shop)
    for maker in file["makers"]:
        maker["role"] = "helper"
    file["makers"][0]["name"] = "Ada"
    text = json.dumps(file).replace('"maker": "Maker"', '"maker": "Ada"').encode()
    assert put(owner, text).status_code == 303
    factories.anew(db)
    new = db.scalars(select(Shop).where(Shop.name == "The Owlgate shop")).one()
    assert [maker.name for maker in new.makers if maker.person_id and maker.role == OWNER] == ["Ada (2)"]


def test_a_build_says_what_was_here_and_what_was_made(
    sample: Sample, owner: FlaskClient, euros: Shop, db: Session
) -> None:
    factories.product(db, euros, "House glue")  # the same name, other figures
    answer = put(owner, sample.builds[PIECE][1], "a.zip")
    build = db.scalars(select(Build).where(Build.name == PIECE)).one()
    assert answer.location == f"/builds/{build.id}"
    page = owner.get(answer.location).text
    assert "Here already, with the same figures" not in page
    assert "Press; wide (equipment)" in page
    assert "House glue (2) (products)" in page
    assert "so that no plan counts on them" in page
    left = {maker.name: (maker.role, maker.left_on is not None) for maker in euros.makers if maker.name != "Ada"}
    assert left == {f"Ada {TAIL}": ("helper", True), "Maker": ("helper", True)}
    page = owner.get(str(put(owner, bare(sample.piece), once="again").location)).text
    assert "Here already, with the same figures: " in page
    factories.anew(db)
    assert db.scalars(select(Product.name).where(Product.shop_id == euros.id).order_by(Product.id)).all() == [
        *("House glue", "House glue (2)", "House glue (3)")
    ]


@ONE_DATABASE
def test_what_is_said_fits_into_a_cookie(sample: Sample, owner: FlaskClient, euros: Shop) -> None:
    """Browsers keep 4 kB of it; a longer one is not kept, and whoever sent the file would stand elsewhere."""
    file = bare(sample.piece)
    for number in range(40):
        file["rooms"].append({"name": f"{number}{'房间' * 60}", "settle_minutes": 0})
        file["equipment"].append({"name": f"{number}{'ツール' * 50}", "count": 1})
    answer = put(owner, file)
    assert answer.status_code == 303
    assert max(len(cookie) for cookie in answer.headers.getlist("Set-Cookie")) < 4000
    assert "and 38 more (equipment)" in owner.get(answer.location).text


@ONE_DATABASE
def test_a_build_of_another_currency_is_refused(sample: Sample, owner: FlaskClient, db: Session) -> None:
    answer = put(owner, sample.builds[PIECE][0])
    assert answer.status_code == 422
    assert "currency: this build is reckoned in EUR, and this shop in USD." in answer.text
    assert count(db, Build) == 0


@ONE_DATABASE
def test_a_helper_may_not_add_a_build(sample: Sample, helper: FlaskClient, euros: Shop, db: Session) -> None:
    assert put(helper, sample.builds[PIECE][0]).status_code == 403
    assert count(db, Build) == 0


@ONE_DATABASE
def test_a_build_needs_a_shop(sample: Sample, nobody: FlaskClient, db: Session) -> None:
    assert "Start one, then put it in" in put(nobody, sample.builds[PIECE][0]).text
    assert (count(db, Person), count(db, Operation)) == (0, 0)


@ONE_DATABASE
def test_no_file_is_asked_for_again(owner: FlaskClient) -> None:
    answer = owner.post("/imports", data={"once": "x", "file": (BytesIO(b""), "")})
    assert answer.status_code == 422
    assert "Choose the file" in answer.text


def test_pictures_that_are_nowhere_are_named(sample: Sample, owner: FlaskClient, euros: Shop, db: Session) -> None:
    """Their lines stay in the journal; the photos do not stand there without a picture."""
    answer = put(owner, sample.builds[PIECE][0])
    page = owner.get(answer.location).text
    assert "Without 4 pictures that are neither in the file nor in a shop of yours here: " in page
    assert "фото.jpg" in page
    assert count(db, Photo) == 0
    lines = db.scalars(select(Entry).where(Entry.kind == "photographed")).all()
    assert len(lines) == 6
    assert [line for line in lines if "photo" in line.data] == []
    assert owner.get("/journal").status_code == 200


def test_to_know_the_hash_of_a_picture_does_not_show_it(
    sample: Sample, owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop, euros: Shop
) -> None:
    """Another shop on this server has the picture; whoever only names it gets nothing."""
    theirs = db.scalars(select(Shop).where(Shop.name == "Elsewhere")).one()
    build = factories.build(db, theirs)
    send(stranger, f"builds/{build.id}", ("a.jpg", jpeg("purple")))
    factories.anew(db)
    photo = db.scalars(select(Photo)).one()
    file = bare(sample.piece)
    for known in (photo.shown_sha256, photo.sha256):
        file["builds"][0]["photos"] = [
            {
                "number": 1,
                "picture": known,
                "sent_name": "a.jpg",
                "width": 4,
                "height": 3,
                "version": 1,
                "at": "2026-02-03T00:00:00Z",
            }
        ]
        answer = put(owner, file, once=str(known))
        assert answer.status_code == 303
        assert "Without 1 picture that is neither" in owner.get(answer.location).text
    factories.anew(db)
    assert db.scalars(select(Photo.shop_id)).all() == [theirs.id]


@ONE_DATABASE
def test_a_lie_about_a_picture_is_refused(sample: Sample, owner: FlaskClient, euros: Shop, store: Store) -> None:
    """What is under a hash must be what the hash says, and such as this app makes: neither more nor less."""
    file = sample.piece
    with ZipFile(BytesIO(sample.builds[PIECE][1])) as archive:
        pictures = {name[9:-5]: archive.read(name) for name in archive.namelist() if name.startswith("pictures/")}
    first, second = list(pictures)[:2]
    answer = put(owner, zipped(file, {**pictures, first: pictures[second]}), "a.zip")
    assert (answer.status_code, f"pictures/{first}.webp: this is not the picture" in answer.text) == (422, True)
    assert [name for name, _ in store.kept() if first in name] == []


@ONE_DATABASE
@pytest.mark.parametrize("lie", ["<svg onload=alert(1)>", "jpeg", "with position", "cut off"])
def test_only_bare_pixels_are_taken(lie: str, sample: Sample, owner: FlaskClient, euros: Shop, db: Session) -> None:
    with ZipFile(BytesIO(sample.builds[PIECE][1])) as archive:
        webp = next(archive.read(name) for name in archive.namelist() if name.startswith("pictures/"))
    exif = b"EXIF" + (6).to_bytes(4, "little") + b"GPS4,5"
    riffed = b"RIFF" + (len(webp) + len(exif) - 8).to_bytes(4, "little") + webp[8:] + exif
    content = {"jpeg": jpeg(), "with position": riffed, "cut off": webp[:-40]}.get(lie, lie.encode())
    answer = put(owner, _with_picture(sample, content), "a.zip")
    assert answer.status_code == 422
    assert ".webp: This is not a picture as Benchtide keeps them" in answer.text
    assert count(db, Photo) == 0


def _with_picture(sample: Sample, content: bytes) -> bytes:
    file = bare(sample.piece)
    shows = hashlib.sha256(content).hexdigest()
    file["builds"][0]["photos"] = [
        {
            "number": 1,
            "picture": shows,
            "sent_name": "a",
            "width": 4,
            "height": 3,
            "version": 1,
            "at": "2026-02-03T00:00:00Z",
        }
    ]
    return zipped(file, {shows: content})


@ONE_DATABASE
def test_a_picture_as_sent_by_hand_before_does_not_stand_in_the_way(
    sample: Sample, owner: FlaskClient, euros: Shop, db: Session, app: Flask
) -> None:
    """Somebody sent the very bytes of a served picture as a photo: its name in the store shows it packed once more."""
    with ZipFile(BytesIO(sample.builds[PIECE][1])) as archive:
        webp = next(archive.read(name) for name in archive.namelist() if name.startswith("pictures/"))
    send(owner, f"builds/{factories.build(db, euros).id}", ("a.webp", webp))
    answer = put(owner, sample.builds[PIECE][1], "a.zip")
    assert answer.status_code == 303
    assert got(owner, f"{answer.location}/exports/build.json") == sample.builds[PIECE][0]


def test_photos_from_before_their_hash_was_noted_are_found(sample: Sample, nobody: FlaskClient, db: Session) -> None:
    put(nobody, sample.archive, "a.zip")
    db.execute(update(Photo.__table__).values(shown_sha256=None))  # type: ignore[arg-type]
    db.commit()
    assert got(nobody, "/exports/shop.json") == sample.shop
    assert put(nobody, sample.shop, once="again").status_code == 303
    assert got(nobody, "/exports/shop.json") == sample.shop


def test_nothing_is_half_in(sample: Sample, owner: FlaskClient, euros: Shop, db: Session) -> None:
    """What only the database notices, at the last row, takes all rows back."""
    file = bare(sample.piece)
    file["builds"][0]["payments"].append({**file["builds"][0]["payments"][0], "name": "twice"})
    assert put(owner, file).status_code == 422
    assert [count(db, table) for table in (Build, Operation, Product)] == [0, 0, 0]
