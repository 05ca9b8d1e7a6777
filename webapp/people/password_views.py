"""One's own password."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session, sessions
from webapp.people import actions as people
from webapp.people import brake
from webapp.people.forms import PasswordForm
from webapp.people.models import Person, SignIn
from webapp.web import guard
from webapp.web.clock import now

part = Blueprint("password", __name__, url_prefix="/password")


@part.get("")
@guard.signed_in
def edit() -> str:
    """Ask for a new password."""
    return _page(PasswordForm())


@part.post("")
@guard.signed_in
def update() -> ResponseReturnValue:
    """Set a new password and sign out every other device; this one goes on with a new token."""
    who, form = guard.visitor(), PasswordForm(request.form)
    right = form.validate()
    if _has_password():
        try:
            found, is_right = people.knock(who.name, str(form.old_password.data or ""), now())
        except brake.BrakedError as error:
            form.old_password.errors = (str(error),)
            return _page(form), 429
        if not is_right or found != who.person_id:
            brake.note_failure(session(), who.name, who.person_id, now())
            session().commit()
            form.old_password.errors = ("That is not your password.",)
            right = False
    if not right:
        return _page(form), 422
    people.set_password(session().get_one(Person, who.person_id), str(form.password.data))
    people.end_sign_ins(session(), who.person_id, now(), but=who.sign_in_id)
    people.renew(session().get_one(SignIn, who.sign_in_id))
    flash("The new password holds from now on. Other devices are signed out.")
    session().commit()
    return redirect(url_for("people.sign_ins.index"), 303)


def _page(form: PasswordForm) -> str:
    return render_template("people/password.html", form=form, has_password=_has_password())


def _has_password() -> bool:
    with sessions().read() as db:
        return db.get_one(Person, guard.visitor().person_id).password_hash is not None
