"""The page of now."""

from datetime import datetime, timedelta

from flask import Blueprint, render_template

from webapp.bench.now import bench_of
from webapp.db.session import session
from webapp.journal.words import SHOP_TIMES
from webapp.shops.models import Shop
from webapp.web.clock import now
from webapp.web.filters import DAYS, clock_time, local
from webapp.web.guard import visitor

room = Blueprint("bench", __name__)
NEAR = timedelta(hours=40)


@room.app_template_filter()
def large(moment: datetime) -> str:
    """Return a moment to be read from across the shop: 15:52, Wed 08:00, Mon 9."""
    then, here = local(moment), local(now())
    if then.date() == here.date():
        return clock_time(moment)
    if abs(moment - now()) < NEAR:
        return f"{DAYS[then.weekday()]} {clock_time(moment)}"
    return f"{DAYS[then.weekday()]} {then.day}"


@room.get("/")
def show() -> str:
    """Show what ends next, what is in hand, what asks, what waits, and what could be begun."""
    who = visitor()
    shop = session().get_one(Shop, who.shop.id)
    bench = bench_of(session(), shop, who.maker_id, now(), is_owner=who.is_owner)
    return render_template("bench/show.html", bench=bench, shop_times=SHOP_TIMES)
