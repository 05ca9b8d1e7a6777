"""The people who work in the shop."""

from flask import Blueprint, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.people.models import Person
from webapp.shops.actions import is_last_owner, this_maker, this_shop
from webapp.shops.forms import AccountForm, JoinForm, MakerForm, RateForm
from webapp.shops.models import HELPER, OWNER, Maker
from webapp.shops.seen import Seen, seen
from webapp.shops.week import in_words
from webapp.web import guard, once, versions
from webapp.web.clock import today

part = Blueprint("makers", __name__, url_prefix="/shop/makers")


@part.get("")
@guard.owner
def index() -> str:
    """Show who works here, and who did."""
    return _page(MakerForm())


@part.post("")
@guard.owner
@once.once
def create() -> ResponseReturnValue:
    """Add somebody who works here; the sign-in comes on the maker's own page."""
    form = MakerForm(request.form)
    if not _is_right(form, None):
        return _page(form), 422
    maker = Maker(shop_id=this_shop(lock=True).id)
    form.populate_obj(maker)
    session().add(maker)
    session().flush()
    location = once.keep(url_for("shops.makers.edit", key=maker.id))
    session().commit()
    return redirect(location, 303)


@part.get("/<int:key>")
@guard.owner
def edit(key: int) -> str:
    """Show a maker: name, rights, rate, hours, sign-in."""
    maker = guard.mine(Maker, key)
    return render_template("shops/maker.html", **page_of_maker(maker))


@part.post("/<int:key>")
@guard.owner
def update(key: int) -> ResponseReturnValue:
    """Change a maker's name or rights."""
    maker, form = this_maker(key), MakerForm(request.form)
    if not _is_right(form, maker):
        return render_template("shops/maker.html", **page_of_maker(maker, form=form)), 422
    if versions.is_stale(form, _seen(maker)):
        differences = versions.differences(form, _form(maker))
        return render_template("shops/maker.html", **page_of_maker(maker, form=form, differences=differences)), 409
    form.populate_obj(maker)
    flash("Saved.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


@part.post("/<int:key>/leaving")
@guard.owner
def leave(key: int) -> ResponseReturnValue:
    """End a maker's work here: what was done stays, and the sign-in no longer leads into this shop."""
    maker = this_maker(key)
    if is_last_owner(maker):
        flash("Somebody has to own the shop. Make another maker with a sign-in an owner first.", "bad")
        return redirect(url_for("shops.makers.edit", key=key), 303)
    maker.left_on = today(guard.visitor().shop.zone.key)
    flash(f"{maker.name} no longer works here. All that was noted stays.")
    session().commit()
    return redirect(url_for("shops.makers.index"), 303)


@part.post("/<int:key>/leaving/delete")
@guard.owner
def come_back(key: int) -> ResponseReturnValue:
    """Let somebody who left work here again."""
    maker = this_maker(key)
    maker.left_on = None
    flash(f"{maker.name} works here again.")
    session().commit()
    return redirect(url_for("shops.makers.edit", key=key), 303)


def page_of_maker(maker: Maker, **given: object) -> dict[str, object]:
    """Return what a maker's page shows; `given` forms come back with what was typed."""
    shop = this_shop()
    on = today(shop.time_zone)
    person = session().get(Person, maker.person_id) if maker.person_id else None
    found: dict[str, object] = {
        "maker": maker,
        "person": person,
        "form": _form(maker),
        "differences": None,
        "rate_form": RateForm(from_on=on),
        "account_form": AccountForm(sign_in_name=maker.name),
        "join_form": JoinForm(),
        "rate": maker.rate_on(on),
        "week": in_words(maker.openings) if maker.openings else "",
        "on": on,
        "is_last_owner": is_last_owner(maker),
    }
    return found | given


def _is_right(form: MakerForm, maker: Maker | None) -> bool:
    if not form.validate():
        return False
    if guard.is_taken(Maker, form.name.data, maker):
        form.name.errors = ("Somebody of that name is on the list already, working here or having left.",)
    elif maker is not None and form.role.data != OWNER and is_last_owner(maker):
        form.role.errors = ("Somebody has to own the shop. Make another maker an owner first.",)
    return not (form.name.errors or form.role.errors)


def _form(maker: Maker) -> MakerForm:
    form = MakerForm(obj=maker)
    form.version.data = _seen(maker).version
    return form


def _seen(maker: Maker) -> Seen:
    return seen(maker.name, maker.role)


def _page(form: MakerForm) -> str:
    shop = this_shop()
    return render_template(
        "shops/makers.html",
        form=form,
        makers=[maker for maker in shop.makers if maker.left_on is None],
        gone=[maker for maker in shop.makers if maker.left_on is not None],
        on=today(shop.time_zone),
        in_words=in_words,
        helper=HELPER,
    )
