"""The page of now."""

from flask import Blueprint, render_template

from webapp.bench.moments import large
from webapp.bench.now import bench_of
from webapp.db.session import session
from webapp.journal.words import SHOP_TIMES
from webapp.shops.actions import this_shop
from webapp.web.clock import now
from webapp.web.guard import visitor

room = Blueprint("bench", __name__)
room.add_app_template_filter(large)


@room.get("/")
def show() -> str:
    """Show what ends next, what is in hand, what asks, what waits, and what could be begun."""
    who = visitor()
    bench = bench_of(session(), this_shop(), who.maker_id, now(), is_owner=who.is_owner)
    return render_template("bench/show.html", bench=bench, shop_times=SHOP_TIMES)
