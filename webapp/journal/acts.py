"""What the views of the verbs share: the act out of a form, the way back, the words afterwards, the page that asks."""

from collections.abc import Sequence
from typing import Any

from flask import flash, redirect, render_template, request
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from webapp.builds.models import Operation
from webapp.db.held import held
from webapp.db.session import session
from webapp.journal import wrong_clock
from webapp.journal.forms import EntryForm
from webapp.journal.gluing import Gluing, glues_of, gluing
from webapp.journal.heating import heating_in
from webapp.journal.models import Entry
from webapp.journal.scene import Label, Scene, of_build
from webapp.journal.verbs import MINUTE, Act
from webapp.shops.actions import this_shop
from webapp.trade.cautions.work import Caution
from webapp.web.clock import now
from webapp.web.guard import mine, visitor
from webapp.web.local_path import local_path
from webapp.web.once import new_key


def act_of(form: EntryForm, *, anyway: bool = False) -> Act:
    """Return who does what the form says, under its id, now or at the time typed.

    Raises ClockError where the clock may be wrong and nobody has said that it is right, unless it is done `anyway`.
    """
    who, moment = visitor(), now()
    if not anyway:
        wrong_clock.check()
    at = form.at.data or moment
    earlier = at < moment - MINUTE
    return Act(str(form.id.data or new_key()), at, moment, who.shop.id, who.maker_id, earlier)


def way_back() -> str:
    """Return the page the form came from: the bench, unless it says otherwise."""
    return local_path(request.values.get("next"))


def scene_of(operation: Operation) -> Scene:
    """Return the scene of the build that an operation belongs to."""
    return of_build(session(), this_shop(), operation.build_id, now())


def gluing_of(scene: Scene, operation: Operation) -> Gluing | None:
    """Return the time there is for a glue-up; the glues of the shop are read once in a transaction, if need be."""
    return gluing(scene, scene.step(operation), _glues)


def heating(room: str | None) -> Sequence[Caution]:
    """Return what goes beside an advice to warm a room."""
    return heating_in(session(), this_shop(), room, now())


def _glues() -> list[Label]:
    kept = held(session())
    if "glues" not in kept:
        kept["glues"] = glues_of(session(), visitor().shop.id)
    found: list[Label] = kept["glues"]
    return found


def was_sent(form: EntryForm) -> bool:
    """Return whether this very line is in the journal already: then nothing is to be done but to answer the same."""
    found = session().get(Entry, str(form.id.data))
    return found is not None and found.shop_id == visitor().shop.id


def say(text: str, entry: Entry | None = None, caution: Any = None, more: Any = None, mind: Any = ()) -> None:
    """Say on the next page what was noted, with a way to take it back; `more` is a link and its words.

    Of `caution` all is said, of those in `mind` what each is about.
    """
    undo = entry.id if entry is not None else None
    told = {"text": text, "undo": undo, "caution": caution, "more": more, "mind": mind, "next": way_back()}
    flash(Markup(render_template("journal/_said.html", **told)))  # noqa: S704


def back() -> ResponseReturnValue:
    return redirect(way_back(), 303)


def ask(form: EntryForm, title: str, label: str, **more: Any) -> str:
    """Render the page that asks what a verb needs to know."""
    usual: dict[str, Any] = {"operation": None, "build": None, "says": (), "held": (), "buttons": (), "rows": {}}
    usual |= {"fields": ("at",), "before": None, "cold": "", "heating": (), "glue": None}
    values = {**usual, **more}
    return render_template("journal/verb.html", form=form, title=title, label=label, way_back=way_back(), **values)


def the_operation(operation_id: int) -> Operation:
    return mine(Operation, operation_id)
