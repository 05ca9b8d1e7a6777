"""Before the shop is left: what oil, dust and fumes of the day ask for, once more, until somebody has seen to it."""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from sqlalchemy import func, select
from sqlalchemy.orm import Session, aliased

from webapp.builds.models import Operation
from webapp.db.folding import fold
from webapp.journal.models import Entry
from webapp.planning import instants
from webapp.products.models import Product
from webapp.shops.document import open_hours
from webapp.shops.models import Shop
from webapp.trade.cautions.work import Caution, Done, again_at_closing, caution

NEAR = timedelta(hours=1)  # before closing, and from then on until midnight
SEEN_TO = "Before closing: seen to"
LATER = aliased(Entry)
AT_WORK = ("started", "resumed", "done", "worked")


def at_closing(db: Session, shop: Shop, now: datetime) -> Sequence[Caution]:
    """Return what is asked about before the shop is left; nothing until then, and nothing once it is seen to."""
    today = now.astimezone(shop.zone).date()
    closes = open_hours(shop, now).last_closing(today)
    if closes is not None and now < instants.moment(closes) - NEAR:
        return ()
    since = datetime.combine(today, time(), shop.zone)
    lines = Entry.shop_id == shop.id, Entry.at >= since, Entry.at <= now
    noted = select(func.max(Entry.at)).where(*lines, Entry.kind == "noted", Entry.folded.startswith(fold(SEEN_TO)))
    seen = db.scalar(noted.where(~select(LATER.id).where(LATER.corrects == Entry.id).exists()))
    work = select(Operation.kind, Product.name, Product.family).distinct().select_from(Entry).join(Operation)
    work = work.outerjoin(Product, Product.id == Operation.product_id).where(*lines, Entry.kind.in_(AT_WORK))
    done = db.execute(work if seen is None else work.where(Entry.at > seen))
    return [
        caution(key) for key in again_at_closing(Done(kind, name or "", family or "") for kind, name, family in done)
    ]
