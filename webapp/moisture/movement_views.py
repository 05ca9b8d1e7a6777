"""What a part does over the year, and the slots, grooves and gaps it needs."""

from typing import Any

from flask import Blueprint, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from webapp.builds.models import Part
from webapp.db.session import session
from webapp.moisture.forms import InsetForm, PanelForm, SlotForm
from webapp.moisture.leeways import KINDS, needs, short
from webapp.moisture.models import LEEWAYS, Leeway
from webapp.moisture.moving import moves_of
from webapp.web import once
from webapp.web.forms import Form
from webapp.web.guard import mine

part = Blueprint("movement", __name__)
FORMS: dict[str, type[Form]] = {"slot": SlotForm, "panel": PanelForm, "inset": InsetForm}


@part.get("/parts/<int:part_id>/movement")
def show(part_id: int) -> str:
    """Show what a part does over the year."""
    return _page(mine(Part, part_id))


@part.post("/parts/<int:part_id>/movement/<any(slot, panel, inset):kind>")
@once.once
def create(part_id: int, kind: str) -> ResponseReturnValue:
    """Note what the part needs room for."""
    row, form = mine(Part, part_id), FORMS[kind](request.form)
    if not form.validate():
        return _page(row, kind, form), 422
    leeway = Leeway(shop_id=row.shop_id, part_id=row.id, kind=kind)
    for name in LEEWAYS[kind]:
        setattr(leeway, f"{name}_typed", form[name].data.entered)
    session().add(leeway)
    location = once.keep(url_for("moisture.movement.show", part_id=row.id))
    session().commit()
    return redirect(location, 303)


@part.post("/movements/<int:key>/delete")
def delete(key: int) -> ResponseReturnValue:
    """Take it away again."""
    row = mine(Leeway, key)
    location = url_for("moisture.movement.show", part_id=row.part_id)
    session().delete(row)
    session().commit()
    return redirect(location, 303)


def _page(row: Part, kind: str = "", form: Any = None) -> str:
    (moves,) = moves_of(session(), row.build, [row])
    rows = session().scalars(select(Leeway).where(Leeway.part_id == row.id).order_by(Leeway.id))
    forms = {name: form if name == kind else made(prefix="") for name, made in FORMS.items()}
    return render_template(
        "moisture/movement.html",
        part=row,
        moves=moves,
        needs=[needs(one, moves) for one in rows],
        forms=forms,
        opened=kind,
        titles=KINDS,
        short=short,
    )
