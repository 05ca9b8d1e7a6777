"""Looking round in an invented shop, and being rid of it again."""

import logging
from collections.abc import Iterable

from flask import Blueprint, Response, abort, after_this_request, current_app, flash, g, redirect, request, url_for
from flask import session as cookie
from flask.typing import ResponseReturnValue

from webapp.db.session import session, sessions
from webapp.invented import actions
from webapp.invented.pictures import stored
from webapp.invented.pieces import PIECES
from webapp.invented.place import units
from webapp.invented.timeline import lay
from webapp.people import actions as people
from webapp.people.models import Person
from webapp.shops import actions as shops
from webapp.shops.zones import here, is_zone
from webapp.web import guard
from webapp.web.clock import now
from webapp.web.files import store

log = logging.getLogger(__name__)
room = Blueprint("invented", __name__, url_prefix="/invented")

FIRST_NAME = "Maker"


@room.post("")
@guard.public
def create() -> ResponseReturnValue:
    """Put up the invented shop; on its own computer the very first visitor becomes its owner without a password.

    There is one for each owner: sent again, this leads into the one that stands. Pictures are drawn and stored before
    the database is opened for writing.
    """
    _check_may_start()
    if g.visitor is not None and _stands_already(g.visitor.person_id):
        return redirect("/", 303)
    moment, zone = now(), _zone()
    timeline = lay(PIECES, zone, moment)
    pictures = stored(timeline, units(zone).length, store(), current_app.config.get("INVENTED_PICTURES"))
    person = _owner()
    if person is None:
        return redirect("/", 303)
    shop = actions.invented_shop_of(session(), person.id)
    shop = shop or actions.put_up(session(), person, zone, timeline, pictures, moment)
    shops.enter(shop)
    session().commit()
    return redirect("/", 303)


def _check_may_start() -> None:
    with sessions().read() as db:
        if g.visitor is None and (people.is_anybody(db) or not people.is_on_this_computer()):
            abort(403)


def _stands_already(person_id: int) -> bool:
    with sessions().read() as db:
        shop = actions.invented_shop_of(db, person_id)
        if shop is not None:
            shops.enter(shop)
        return shop is not None


def _zone() -> str:
    """Where the browser says it is; without a script, where the server stands."""
    wanted = request.form.get("time_zone", "")
    return wanted if is_zone(wanted) else here()


def _owner() -> Person | None:
    """Return who the shop will belong to, locked; none when somebody else came first."""
    if g.visitor is not None:
        return session().get_one(Person, g.visitor.person_id, with_for_update=True)
    if not people.comes_first(session()):
        return None
    person = people.add_person(session(), FIRST_NAME, None, now())
    people.begin(session(), person, now())
    return person


@room.post("/delete")
@guard.owner
def delete() -> ResponseReturnValue:
    """Remove the invented shop with its pictures; the account stays. No other shop can be removed so."""
    shop = shops.this_shop(lock=True)
    if not shop.is_invented:
        abort(404)
    files = actions.take_down(session(), shop)

    @after_this_request
    def remove(response: Response) -> Response:
        if response.status_code == 303:  # not while the rows are still there
            _remove(files)
        return response

    cookie.pop("shop", None)
    is_last = len(shops.shops_of(session(), guard.visitor().person_id)) == 0
    flash("The invented shop is gone.")
    session().commit()
    return redirect(url_for("shops.start") if is_last else "/", 303)


def _remove(files: Iterable[str]) -> None:
    """Remove files that no row names any more. Where the store fails, the rest is swept later."""
    try:
        for name in files:
            store().delete(name)
    except OSError as error:
        log.warning("pictures of the invented shop are left to be swept: %s", error)
