"""The plan, day by day."""

from flask import Blueprint, render_template, request

from webapp.days.actions import planning
from webapp.days.bands import days, flags
from webapp.db.session import session
from webapp.planning.instants import cut
from webapp.web.clock import now
from webapp.web.filters import said
from webapp.web.guard import visitor

room = Blueprint("days", __name__)

SHOWN = (7, 14, 28)


@room.get("/days")
def show() -> str:
    """Show the coming days of all open builds."""
    shop = visitor().shop
    found = planning(session(), shop.id, now())
    count = request.args.get("days", type=int)
    count = count if count in SHOWN else SHOWN[0]
    return render_template(
        "days/show.html",
        days=days(found, cut(now()), shop.zone, count, said),
        flags=flags(found.plan, found.rows),
        builds=[(found.rows.builds[build.name], build) for build in found.plan.builds],
        gain=found.gain,
        count=count,
        choices=SHOWN,
    )
