"""What other pages show: the way to the backups, and a line where the last one is old."""

from datetime import timedelta
from typing import Any

from flask import render_template
from sqlalchemy import exists, select

from webapp.backups import actions
from webapp.db.session import session
from webapp.journal.models import Entry
from webapp.shops.models import Shop
from webapp.web.clock import now
from webapp.web.guard import visitor

OLD = timedelta(days=7)


def shop_panel(_subject: Any) -> str:
    """Return how old the last backup is, and the way to making one; nothing in the invented shop."""
    if visitor().shop.is_invented:
        return ""
    return render_template("backups/_shop.html", last=actions.last(session()))


def bench_panel(_subject: Any) -> str:
    """Return a reminder to whoever may make a backup, once the last one is older than a week."""
    who = visitor()
    if not who.is_owner or who.shop.is_invented:
        return ""
    last = actions.last(session())
    if (last is not None and last.at > now() - OLD) or not _is_worth_it(who.shop.id):
        return ""
    if not actions.owns_everything(session(), who.person_id):
        return ""
    return render_template("backups/_bench.html", last=last)


def _is_worth_it(shop_id: int) -> bool:
    """Return whether a shop is older than a week and something was written in it."""
    if session().get_one(Shop, shop_id).created_at > now() - OLD:
        return False
    return bool(session().scalar(select(exists().where(Entry.shop_id == shop_id))))
