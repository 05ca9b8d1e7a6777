"""Putting in what was taken out: a shop becomes a new one of whoever sends it, a build one more of the present shop."""

from uuid import uuid4

from flask import Blueprint, abort, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup
from sqlalchemy import select
from sqlalchemy.exc import DataError, IntegrityError

from webapp.builds.models import Build
from webapp.db.receipt import Receipt
from webapp.db.session import session, sessions
from webapp.exports import putting_in
from webapp.exports.archive import Parcel
from webapp.exports.checking import Checked, check
from webapp.exports.forms import ImportForm
from webapp.exports.kinds import SHOP
from webapp.exports.matching import Matches, match
from webapp.exports.pictures import Album, own
from webapp.exports.putting_in import Occasion
from webapp.exports.reading import RefusedError, refuse
from webapp.exports.row import Row
from webapp.exports.sense import check_sense
from webapp.people import actions as people
from webapp.people.models import Person
from webapp.shops import actions as shops
from webapp.shops.models import Shop
from webapp.web import guard, once
from webapp.web.clock import now, today
from webapp.web.files import StoreError, store

part = Blueprint("imports", __name__, url_prefix="/imports")

FIRST_NAME = "Maker"
SHOWN, LONGEST_SHOWN = 3, 30


@part.get("")
@guard.public
def new() -> ResponseReturnValue:
    """Ask for the file of a shop or a build."""
    if not _may_come():
        return redirect(url_for("people.sign_in", next=url_for("exports.imports.new")), 303)
    return _page(ImportForm())


def _may_come() -> bool:
    """Whoever is signed in, and on its own computer the very first visitor, as on the page that starts a shop."""
    if g.visitor is not None:
        return True
    with sessions().read() as db:
        return people.is_on_this_computer() and not people.is_anybody(db)


def _page(form: ImportForm) -> str:
    return render_template("exports/import.html", form=form, visitor=g.visitor)


@part.post("")
@guard.public
def create() -> ResponseReturnValue:
    """Look at the whole file, store its pictures, then put all of it in at once. Sent twice it is put in once."""
    if not _may_come():
        abort(403)
    form = ImportForm(request.form, request.files)
    location = _answered_before()
    if location:
        return redirect(location, 303)
    if not form.validate():
        return _page(form), 422
    try:
        found, missing = _looked_through(form)
        location = _put_in(found, missing)
    except (RefusedError, StoreError) as error:
        form.file.errors = [str(error)]
        return _page(form), 422
    session().commit()
    return redirect(location, 303)


def _answered_before() -> str | None:
    """Return where this form led when it was sent before, without opening the database for writing."""
    with sessions().read() as db:
        return db.scalar(select(Receipt.location).where(Receipt.key == (once.key() or "")))


def _looked_through(form: ImportForm) -> tuple[Checked, list[Row]]:
    """Return what is to be put in, and the photos whose picture is nowhere to be found. This is the slow part."""
    sent = form.sent()
    assert sent is not None
    parcel = Parcel(sent)
    found = check(parcel.text())
    check_sense(found)
    if found.held != SHOP:
        _check_place(found)
    with sessions().read() as db:
        mine = own(db, g.visitor.person_id, store()) if g.visitor is not None else {}
    return found, Album(parcel, mine, store()).fill(found.rows["photos"])


def _check_place(found: Checked) -> None:
    """A build goes into the shop where its owner stands, and there money is counted in one currency."""
    who = g.visitor
    if who is None or who.shop_facts is None:
        raise refuse(("format",), "this is one build, and a build needs a shop. Start one, then put it in.")
    if not who.is_owner:
        abort(403)
    if who.shop.currency != found.currency:
        says = f"this build is reckoned in {found.currency}, and this shop in {who.shop.currency}."
        raise refuse(("currency",), f"{says} Its prices would become others.")


def _put_in(found: Checked, missing: list[Row]) -> str:
    """Put the rows in and say what came of it; return where to go."""
    location = once.answered()
    if location is None and g.visitor is None and not people.comes_first(session()):
        location = once.answered() or abort(403)
    if location:
        return location
    try:
        with session().begin_nested():
            return _shop(found, missing) if found.held == SHOP else _build(found, missing)
    except (IntegrityError, DataError):
        raise refuse((), "something in it does not go together, and nothing of it was put in.") from None


def _shop(found: Checked, missing: list[Row]) -> str:
    person = _owner(found)
    zone = found.rows[SHOP][0].values["time_zone"]
    occasion = Occasion(now(), today(zone), uuid4().hex)
    shop = session().get_one(Shop, putting_in.shop(session(), found, person, occasion))
    shops.enter(shop)
    mine = next(maker for maker in shop.makers if maker.person_id == person.id)
    _say(found, missing, name=shop.name, maker=mine.name, matches=None)
    return once.keep("/")


def _owner(found: Checked) -> Person:
    """Return who the shop will belong to: who is signed in, or on a server without any account its first one."""
    if g.visitor is not None:
        return session().get_one(Person, g.visitor.person_id)
    taken = putting_in.place_of(found.rows["makers"], "")
    person = people.add_person(session(), taken.values["name"] if taken else FIRST_NAME, None, now())
    people.begin(session(), person, now())
    return person


def _build(found: Checked, missing: list[Row]) -> str:
    shop = shops.this_shop(lock=True)
    matches = match(session(), shop.id, found)
    occasion = Occasion(now(), today(shop.time_zone), uuid4().hex)
    build = session().get_one(Build, putting_in.build(session(), found, shop.id, occasion))
    _say(found, missing, name=build.name, maker="", matches=matches)
    return once.keep(url_for("builds.show", build_id=build.id))


def _say(found: Checked, missing: list[Row], *, name: str, maker: str, matches: Matches | None) -> None:
    """Say on the next page what was put in, what was here already, and which pictures are lacking."""
    told = {
        "name": few([name]),
        "maker": few([maker]),
        "is_shop": matches is None,
        "counts": {name: sum(not row.is_skipped for row in found.rows[name]) for name in ("builds", "photos")},
        "matched": [few(names) for names in matches.matched.values()] if matches else [],
        "made": [(few(names), list_) for list_, names in matches.made.items()] if matches else [],
        "lacking": len(missing),
        "lacking_names": few([row.values["sent_name"] for row in missing]),
    }
    flash(Markup(render_template("exports/_said.html", **told)))  # noqa: S704


def few(names: list[str]) -> str:
    """Return the first names of a list: what is said on the next page travels in a cookie, which holds little.

    >>> few(["a", "b", "c", "d", "e"])
    'a, b, c and 2 more'
    """
    shown = [name if len(name) <= LONGEST_SHOWN else f"{name[: LONGEST_SHOWN - 1]}…" for name in names[:SHOWN]]
    more = f" and {len(names) - SHOWN} more" if len(names) > SHOWN else ""
    return ", ".join(shown) + more
