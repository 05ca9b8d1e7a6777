"""What other pages show of the shop: whether it is open, how warm it is, and which shops somebody works in."""

from datetime import datetime
from typing import Any

from flask import render_template

from webapp.db.session import session
from webapp.planning.hours import Hours
from webapp.planning.instants import DAY, cut, moment
from webapp.shops.actions import reading_now, shops_of, this_shop
from webapp.shops.air import air_of_form
from webapp.shops.document import open_hours
from webapp.shops.forms import AirForm
from webapp.web.clock import now
from webapp.web.filters import when
from webapp.web.guard import visitor


def head_panel(_subject: Any) -> str:
    """Return what stands after the clock in the top line of every page."""
    shop = this_shop()
    return render_template(
        "shops/_head.html",
        hours=hours_now(open_hours(shop, now()), now()),
        reading=reading_now(session(), shop.id, now()),
    )


def hours_now(hours: Hours, at: datetime) -> str:
    """Return whether the shop is open, and until when: open until 17:00, shut until Wed 4, 08:00."""
    instant, shop = cut(at), hours.of()
    index = shop.find(instant)
    if index is None:
        return "shut"
    if shop.open(index) > instant:
        return f"shut until {when(moment(shop.open(index)))}"
    closes = shop.close(index, instant + DAY)
    return "open" if closes > instant + DAY else f"open until {when(moment(closes))}"


def air_panel(_subject: Any) -> str:
    """Return the newest reading with its age, and the two fields for the next one."""
    return render_template("shops/_bench_air.html", **air_of_form(AirForm()), next="/")


def person_panel(_subject: Any) -> str:
    """Return the shops somebody works in, to go from one to another."""
    return render_template("shops/_mine.html", shops=shops_of(session(), visitor().person_id))
