"""What is asked before the shop is left, and its answer as a line of the journal."""

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.journal import acts, verbs
from webapp.journal.closing import SEEN_TO, at_closing
from webapp.journal.forms import EntryForm
from webapp.shops.actions import this_shop
from webapp.web.clock import now

part = Blueprint("closing", __name__)


def closing_panel(_subject: object) -> str:
    """Return what is to be seen to before the shop is left, near closing only."""
    found = at_closing(session(), this_shop(), now())
    return render_template("journal/_closing.html", found=found) if found else ""


@part.post("/closing")
def create() -> ResponseReturnValue:
    """Note that it is seen to."""
    form = EntryForm(request.form)
    if acts.was_sent(form):
        return acts.back()
    if not form.validate():
        return acts.ask(form, "Before you close", "Seen to"), 422
    named = [one.title.lower() for one in at_closing(session(), this_shop(), now())]
    note = SEEN_TO + (f" ({'; '.join(named)})" if named else "")
    acts.say("Noted.", verbs.write(session(), acts.act_of(form), "noted", note=f"{note}."))
    session().commit()
    return acts.back()
