"""The sign-in of a maker: given by an owner, with a first password."""

from flask import Blueprint, abort, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.db.session import session
from webapp.people import actions as people
from webapp.people.actions import SHORTEST_PASSWORD
from webapp.people.models import Person
from webapp.shops.actions import is_known_elsewhere, this_maker
from webapp.shops.forms import AccountForm, JoinForm
from webapp.shops.joining import person_by
from webapp.shops.maker_views import page_of_maker
from webapp.shops.models import OWNER, Maker
from webapp.web import guard
from webapp.web.clock import now

part = Blueprint("accounts", __name__, url_prefix="/shop/makers/<int:key>/account")
WRONG_CODE = (
    "Name and code do not go together, or the code is too old. It stands on the page behind their name, at the foot."
)
NEEDS_OWN = "Set a password of your own first: with a second account, this server lets nobody in without one."


@part.post("")
@guard.owner
def create(key: int) -> ResponseReturnValue:
    """Let a maker sign in, or give a new password to one who forgot it."""
    maker, form = this_maker(key), AccountForm(request.form)
    fault = _fault(maker, form)
    if fault:
        return render_template("shops/maker.html", **page_of_maker(maker, account_form=form)), 422
    _set(maker, form)
    flash(f"{maker.name} can sign in now. The password is changed on the page behind the name at the foot.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


@part.post("/join")
@guard.owner
def join(key: int) -> ResponseReturnValue:
    """Let somebody sign in to this shop with the account they have on this server."""
    maker, form = this_maker(key), JoinForm(request.form)
    if maker.person_id is not None:  # by this very form, tapped twice, perhaps
        flash(f"{maker.name} can sign in already.")
        return redirect(url_for("shops.makers.edit", key=key), 303)
    if not form.validate() or not _is_joined(maker, form):
        return render_template("shops/maker.html", **page_of_maker(maker, join_form=form)), 422
    flash(f"{maker.name} signs in with the same name and password as before, and finds this shop there.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


def _is_joined(maker: Maker, form: JoinForm) -> bool:
    """Join maker and account, or note on the form what stands in the way."""
    person = person_by(session(), str(form.joining_name.data), str(form.code.data), now())
    if person is None:
        form.code.errors = (WRONG_CODE,)
    elif session().scalar(select(Maker.id).where(Maker.shop_id == maker.shop_id, Maker.person_id == person.id)):
        form.joining_name.errors = ("That account belongs to somebody on your list already.",)
    else:
        maker.person_id = person.id
    return maker.person_id is not None


def _fault(maker: Maker, form: AccountForm) -> bool:
    """Note on the form what stands in the way, and return whether anything does."""
    if not form.validate():
        return True
    other = people.person_named(session(), str(form.sign_in_name.data))
    if len(str(form.password.data)) < SHORTEST_PASSWORD:
        form.password.errors = (f"At least {SHORTEST_PASSWORD} characters, please.",)
    elif session().get_one(Person, guard.visitor().person_id).password_hash is None:
        form.password.errors = (NEEDS_OWN,)
    elif other is not None and other.id != maker.person_id:
        form.sign_in_name.errors = ("Somebody on this server signs in by that name already. Choose another.",)
    return bool(form.password.errors or form.sign_in_name.errors)


def _set(maker: Maker, form: AccountForm) -> None:
    name, password = str(form.sign_in_name.data), str(form.password.data)
    if maker.person_id is None:
        maker.person_id = people.add_person(session(), name, password, now()).id
        return
    if maker.role == OWNER or is_known_elsewhere(session(), maker):
        abort(403)  # the account opens more than an owner of this shop may open: only its holder sets its password
    person = session().get_one(Person, maker.person_id)
    people.rename(session(), person, name)
    people.set_password(person, password)
    people.end_sign_ins(session(), person.id, now(), but=guard.visitor().sign_in_id)
