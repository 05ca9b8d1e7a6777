"""Which builds a list shows, in the order a piece goes through its statuses, the earliest promise first."""

from sqlalchemy import Select, case, func, select

from webapp.builds.models import STATUSES, Build
from webapp.db.texts import contains

PUT_AWAY = ("closed", "lost")


def builds_of(shop_id: int, words: str, put_away: bool) -> Select[Build]:
    """Return the builds of a shop: the open ones, or those put away. With words, all in which they occur."""
    wanted = select(Build).where(Build.shop_id == shop_id)
    if words:
        wanted = wanted.where(*(contains(Build.folded, word) for word in words.split()))
    else:
        wanted = wanted.where(Build.status.in_(PUT_AWAY) if put_away else Build.status.not_in(PUT_AWAY))
    place = case({status: number for number, status in enumerate(STATUSES)}, value=Build.status, else_=0)
    return wanted.order_by(place, Build.due_on.is_(None), Build.due_on, Build.name, Build.id)


def count_put_away(shop_id: int) -> Select[int]:
    return select(func.count()).where(Build.shop_id == shop_id, Build.status.in_(PUT_AWAY))


def woods_of(shop_id: int) -> Select[str]:
    """Return the woods this shop has worked, to choose from while typing."""
    return select(Build.wood).where(Build.shop_id == shop_id, Build.wood != "").distinct().order_by(Build.wood)
