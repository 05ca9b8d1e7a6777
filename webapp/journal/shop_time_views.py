"""Work for no build: sharpening, sweeping, quoting, fetching wood; and clocks that were forgotten."""

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.journal import actions, acts, verbs
from webapp.journal.forms import ShopTimeForm, StoppedForm
from webapp.journal.models import Entry
from webapp.journal.names import names_of
from webapp.planning.labour import Question, answer
from webapp.shops.actions import this_shop
from webapp.web.clock import now
from webapp.web.filters import when
from webapp.web.guard import mine, visitor

part = Blueprint("shop_time", __name__)


@part.get("/shop-time")
def show() -> str:
    """Ask what the time is for, and what becomes of the other clock."""
    return _ask(ShopTimeForm(what=request.args.get("what", ""), next=acts.way_back()))


@part.post("/shop-time")
def create() -> ResponseReturnValue:
    """Start a clock for no build."""
    form = ShopTimeForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask(form), 422
    clocks = verbs.clocks_of(session(), this_shop(), now())
    running, choice, what = clocks.of(visitor().maker_id), request.form.get("others"), str(form.what.data)
    if any(span.operation is None and span.shop_time == what for span in running):
        acts.say(f"{what}: the clock runs already.")
        return acts.back()
    if running and choice not in ("pause", "beside"):
        return redirect(url_for(".show", what=what, next=acts.way_back()), 303)
    begun = verbs.write(session(), acts.act_of(form), "started", shop_time=what)
    if choice == "pause":
        verbs.pause_others(session(), begun, clocks)
    acts.say(f"{what}: since {when(begun.at)}.", begun)
    session().commit()
    return acts.back()


def _ask(form: ShopTimeForm) -> str:
    others = verbs.clocks_of(session(), this_shop(), now()).of(visitor().maker_id)
    listed = " and ".join(names_of(session(), others))
    buttons = [(f"Pause {listed} and start", "others", "pause"), ("Start beside it", "others", "beside")]
    return acts.ask(
        form,
        "Shop time",
        "Start",
        says=("Work for no build: it counts in nobody's price and in your year.",),
        buttons=buttons if others else (),
        fields=("what", "at"),
    )


@part.post("/shop-time/pause")
def pause() -> ResponseReturnValue:
    """Stop a clock for no build."""
    form = ShopTimeForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return _ask(form), 422
    line = verbs.write(session(), acts.act_of(form), "paused", shop_time=form.what.data)
    acts.say(f"{form.what.data}: stopped {when(line.at)}.", line)
    session().commit()
    return acts.back()


@part.get("/entries/<entry_id>/stopped")
def stopped(entry_id: str) -> str:
    """Ask when a forgotten clock stopped."""
    question = _question(mine(Entry, entry_id)) or abort(404)
    return _ask_when(StoppedForm(at=question.closing, next=acts.way_back()), question)


@part.post("/entries/<entry_id>/stopped")
def create_stopped(entry_id: str) -> ResponseReturnValue:
    """Say when a forgotten clock stopped; only then is its time booked."""
    begun, form = mine(Entry, entry_id), StoppedForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    question = _question(begun)
    if question is None:
        acts.say("That was answered already.")
        return acts.back()
    if not form.validate():
        return _ask_when(form, question), 422
    moment = now()
    line = actions.keep(session(), answer(question, str(form.id.data), form.at.data, arrived=moment), visitor().shop.id)
    acts.say(f"Stopped {when(line.at)}.", line)
    session().commit()
    return acts.back()


def _question(begun: Entry) -> Question | None:
    asked = verbs.clocks_of(session(), this_shop(), now()).questions
    return next((one for one in asked if one.span.began.id == begun.id), None)


def _ask_when(form: StoppedForm, question: Question) -> str:
    name = names_of(session(), [question.span])[0]
    says = (f"The clock was started {when(question.span.start)} and ran past closing, {when(question.closing)}.",)
    return acts.ask(form, f"{name}: stopped when?", "Stopped then", says=says, fields=("at",))
