"""Moisture of boards and parts: what was read, what it means, and whether they may be milled."""

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request
from flask.typing import ResponseReturnValue

from webapp.db.session import session
from webapp.moisture import house_views, meter_views, movement_views, watch_views, wood_views
from webapp.moisture.actions import meters_of, read, taken_back
from webapp.moisture.answers import against, answer
from webapp.moisture.chart import chart
from webapp.moisture.forms import MoistureForm
from webapp.moisture.houses import houses_of
from webapp.moisture.overview import lately
from webapp.moisture.revisions import standing
from webapp.moisture.subjects import Subject, latest, listed, stock_now, subject_of
from webapp.shops.actions import this_shop
from webapp.web import once, versions
from webapp.web.clock import now
from webapp.web.guard import visitor

room = Blueprint("moisture", __name__)
room.register_blueprint(meter_views.part)
room.register_blueprint(house_views.part)
room.register_blueprint(movement_views.part)
room.register_blueprint(watch_views.part)
room.register_blueprint(wood_views.part)


@room.get("/moisture")
def index() -> str:
    """Show the shop's own stock and the boards and parts that were read last."""
    shop_id = visitor().shop.id
    stock, usual = stock_now(session()), houses_of(session(), shop_id, None)
    found = lately(session(), shop_id, stock, usual.near)
    return render_template("moisture/index.html", stock=stock, near=usual.near, target=usual.target, lately=found)


@room.get("/moisture/stock")
@room.get("/stock/<int:material_id>/moisture")
@room.get("/parts/<int:part_id>/moisture")
def show(material_id: int | None = None, part_id: int | None = None) -> str:
    """Show the readings of a thing, and the form for the next one."""
    subject = subject_of(material_id, part_id)
    return _page(subject, _form())


@room.post("/moisture/stock")
@room.post("/stock/<int:material_id>/moisture")
@room.post("/parts/<int:part_id>/moisture")
@once.once
def create(material_id: int | None = None, part_id: int | None = None) -> ResponseReturnValue:
    """Note a reading."""
    this_shop(lock=True)
    subject = subject_of(material_id, part_id)
    form = _form()
    if not form.validate():
        return _page(subject, form), 422
    session().add(read(session(), subject, form, now(), (subject.last_number(session()) + 1, 1)))
    location = once.keep(subject.url("show"))
    session().commit()
    return redirect(location, 303)


@room.get("/moisture/stock/<int:number>")
@room.get("/stock/<int:material_id>/moisture/<int:number>")
@room.get("/parts/<int:part_id>/moisture/<int:number>")
def edit(number: int, material_id: int | None = None, part_id: int | None = None) -> str:
    """Ask what was wrong about a reading."""
    subject = subject_of(material_id, part_id)
    row = _one(subject, number)
    return _edit(subject, row, _form(row))


@room.post("/moisture/stock/<int:number>")
@room.post("/stock/<int:material_id>/moisture/<int:number>")
@room.post("/parts/<int:part_id>/moisture/<int:number>")
def update(number: int, material_id: int | None = None, part_id: int | None = None) -> ResponseReturnValue:
    """Put a reading right: another row, the old one stays."""
    this_shop(lock=True)
    subject = subject_of(material_id, part_id)
    row = _one(subject, number)
    form = _form(row)
    if not form.validate():
        return _edit(subject, row, form), 422
    if versions.is_stale(form, row):
        return _edit(subject, row, form, versions.differences(form, _form(row, sent=False))), 409
    session().add(read(session(), subject, form, now(), (row.number, row.revision + 1)))
    session().commit()
    return redirect(subject.url("show"), 303)


@room.post("/moisture/stock/<int:number>/delete")
@room.post("/stock/<int:material_id>/moisture/<int:number>/delete")
@room.post("/parts/<int:part_id>/moisture/<int:number>/delete")
def delete(number: int, material_id: int | None = None, part_id: int | None = None) -> ResponseReturnValue:
    """Take a reading back; it stays to be seen."""
    this_shop(lock=True)
    subject = subject_of(material_id, part_id)
    session().add(taken_back(subject, _one(subject, number), now()))
    session().commit()
    return redirect(subject.url("show"), 303)


def _one(subject: Subject, number: int) -> Any:
    """Return a reading as it stands, or answer 404."""
    return subject.reading(session(), number) or abort(404)


def _form(row: Any = None, *, sent: bool = True) -> MoistureForm:
    is_sent = sent and request.method == "POST"
    form = MoistureForm(request.form) if is_sent else MoistureForm(obj=row)
    form.temperature.label.text += f", °{visitor().shop.temperature_unit}"
    meters = meters_of(session(), visitor().shop.id)
    if row is None and not is_sent and meters:
        form.meter.data = meters[0].name
    form.offer(meters, row)
    return form


def _page(subject: Subject, form: MoistureForm) -> str:
    shop_id = visitor().shop.id
    page = listed(session(), subject)
    read = page.rows if page.number == 1 else [latest(session(), subject)]
    rows = standing(row for revisions in read for row in revisions)
    stock = None if subject.is_stock else stock_now(session())
    own = stock.counts_as if stock else None
    houses = houses_of(session(), shop_id, subject.build)
    near, target = houses.near, houses.target
    return render_template(
        "moisture/show.html",
        subject=subject,
        form=form,
        page=page,
        rows=rows,
        stock=stock,
        answer=answer(rows, own, near),
        against=against(rows[-1].counts_as, target) if rows else "",
        target=target,
        chart=chart(rows, None if own is None else (own - near, own + near)),
    )


def _edit(subject: Subject, row: Any, form: MoistureForm, differences: Any = None) -> str:
    return render_template("moisture/edit.html", subject=subject, row=row, form=form, differences=differences)
