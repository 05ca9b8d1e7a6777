"""Coming in and going out."""

from flask import Blueprint, Response, abort, current_app, flash, g, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.people import actions as people
from webapp.people import brake, password_views, sign_ins_views
from webapp.people.forms import SignInForm
from webapp.people.models import Person
from webapp.web import guard, resend
from webapp.web.clock import now
from webapp.web.local_path import local_path

room = Blueprint("people", __name__)
room.register_blueprint(password_views.part)
room.register_blueprint(sign_ins_views.part)
room.add_app_template_global(SignInForm, "sign_in_form")

THEMES = ("day", "evening")
THEME_LASTS = 400 * 24 * 3600
WRONG = "Name or password is not right. Capitals count in the password."


@room.get("/welcome")
@guard.public
def welcome() -> ResponseReturnValue:
    """Show the very first visitor what this is and how to begin."""
    if people.is_anybody(session()):
        return redirect("/", 303)
    has_invented = "invented.create" in current_app.view_functions
    return render_template("people/welcome.html", is_here=people.is_on_this_computer(), has_invented=has_invented)


@room.get("/sign-in")
@guard.public
def sign_in() -> ResponseReturnValue:
    """Ask who is there."""
    if not people.is_anybody(session()):
        return redirect(url_for("people.welcome"), 303)
    way = local_path(request.args.get("next"))
    if g.visitor is not None:
        return redirect(way, 303)
    return render_template("people/sign_in.html", form=SignInForm(next=way))


@room.post("/sign-in")
@guard.public
def create_sign_in() -> ResponseReturnValue:
    """Let in whoever knows the password, and carry on what was typed before."""
    form = SignInForm(request.form)
    if not form.validate():
        return _ask_again(form), 422
    name = str(form.name.data)
    try:
        found, is_right = people.knock(name, str(form.password.data), now())
    except brake.BrakedError as error:
        form.password.errors = (str(error),)
        return _ask_again(form), 429
    if found is None or not is_right:
        form.password.errors = (WRONG,)
        brake.note_failure(session(), name, found, now())
        session().commit()
        return _ask_again(form), 422
    brake.forget_failures(session(), name)
    people.begin(session(), session().get_one(Person, found), now())
    session().commit()
    return _carry_on(form)


def _ask_again(form: SignInForm) -> str:
    target, carried = str(form.resend_to.data or ""), str(form.carried.data or "")
    if not carried:
        return render_template("people/sign_in.html", form=form)
    typed, had_files = resend.unpack(carried)
    return render_template(
        "people/sign_in_resend.html", form=form, target=target, carried=carried, typed=typed, had_files=had_files
    )


def _carry_on(form: SignInForm) -> ResponseReturnValue:
    if form.carried.data:
        return resend.carried_on(str(form.resend_to.data), str(form.carried.data))
    return redirect(local_path(form.next.data), 303)


@room.post("/sign-out")
@guard.signed_in
def sign_out() -> ResponseReturnValue:
    """End this sign-in."""
    people.end_sign_in(session(), guard.visitor().sign_in_id, now())
    brake.empty_cookie()
    flash("Signed out.")
    session().commit()
    return redirect(url_for("people.sign_in"), 303)


@room.post("/theme")
@guard.public
def theme() -> ResponseReturnValue:
    """Choose day or evening light for this device."""
    answer = redirect(local_path(request.form.get("next")), 303)
    assert isinstance(answer, Response)
    wanted = request.form.get("theme", "")
    if wanted in THEMES:
        answer.set_cookie("theme", wanted, max_age=THEME_LASTS, secure=request.is_secure, httponly=True, samesite="Lax")
    elif wanted:
        abort(400)
    else:
        answer.delete_cookie("theme", secure=request.is_secure, httponly=True, samesite="Lax")
    return answer
