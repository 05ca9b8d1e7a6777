"""The plan of one build, on its own page."""

from flask import render_template

from webapp.builds.models import PLANNED, Build
from webapp.days.actions import planning
from webapp.days.stick import lying, standing, stick
from webapp.db.session import session
from webapp.planning.instants import cut
from webapp.web.clock import now
from webapp.web.guard import visitor


def stick_panel(build: Build) -> str:
    """Return the time stick of a build, when there is work to be laid."""
    if build.status not in PLANNED or not build.operations:
        return ""
    shop = visitor().shop
    found = planning(session(), shop.id, now())
    name = next((name for name, row in found.rows.builds.items() if row.id == build.id), None)
    if name is None:
        return ""
    planned = found.plan.build(name)
    drawn = stick(found.rows.builds[name], planned, found.rows, cut(now()), shop.zone)
    if drawn is None:
        return ""
    states = (found.rows.states[step.id] for step in found.rows.builds[name].steps)
    return render_template(
        "days/_stick.html",
        lying=lying(drawn),
        standing=standing(drawn),
        planned=planned,
        build=build,
        is_left=any(state.finished is None and state.abandoned_at is None for state in states),
    )


def next_date(build: Build) -> str:
    """Return when a build is done by the plan, and whether its date holds, for lists."""
    if build.status not in PLANNED:
        return ""
    found = planning(session(), visitor().shop.id, now())
    names = [name for name, row in found.rows.builds.items() if row.id == build.id]
    return render_template("days/_line.html", planned=found.plan.build(names[0])) if names else ""
