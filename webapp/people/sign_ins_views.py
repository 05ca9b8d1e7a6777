"""Where somebody is signed in, and ending it from elsewhere."""

from flask import Blueprint, abort, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.people import actions as people
from webapp.people import brake
from webapp.people.devices import device_name
from webapp.people.models import Person
from webapp.web import guard
from webapp.web.clock import now

part = Blueprint("sign_ins", __name__, url_prefix="/sign-ins")


@part.get("")
@guard.signed_in
def index() -> str:
    """Show where the visitor is signed in, and what else belongs to the account."""
    who = guard.visitor()
    return render_template(
        "people/sign_ins.html",
        person=session().get_one(Person, who.person_id),
        sign_ins=people.standing(session(), who.person_id, now()),
        this=who.sign_in_id,
        device_name=device_name,
    )


@part.post("/<int:key>/delete")
@guard.signed_in
def delete(key: int) -> ResponseReturnValue:
    """End one sign-in, on whatever device it is."""
    who = guard.visitor()
    if key not in {found.id for found in people.standing(session(), who.person_id, now())}:
        abort(404)
    people.end_sign_in(session(), key, now())
    if key == who.sign_in_id:
        brake.empty_cookie()
    flash("That device is signed out.")
    session().commit()
    return redirect(url_for("people.sign_ins.index"), 303)


@part.post("/others/delete")
@guard.signed_in
def delete_others() -> ResponseReturnValue:
    """End every sign-in but this one."""
    who = guard.visitor()
    people.end_sign_ins(session(), who.person_id, now(), but=who.sign_in_id)
    flash("Every other device is signed out.")
    session().commit()
    return redirect(url_for("people.sign_ins.index"), 303)


@part.post("/delete")
@guard.signed_in
def delete_all() -> ResponseReturnValue:
    """End every sign-in, this one too."""
    people.end_sign_ins(session(), guard.visitor().person_id, now())
    brake.empty_cookie()
    flash("Every device is signed out, this one too.")
    session().commit()
    return redirect(url_for("people.sign_in"), 303)
