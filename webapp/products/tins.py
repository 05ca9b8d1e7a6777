"""The tins of products: those that are there, what stands on each in words, and what is wrong with it by its age."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.products.models import Tin
from webapp.trade.products.ages import FREEZES_AT, AgeFault, product_faults
from webapp.web.filters import day, when

BELOW = FREEZES_AT - 1
LISTED = 20


@dataclass(frozen=True)
class Looked:
    """A tin, and what is wrong with it now."""

    tin: Tin
    faults: tuple[AgeFault, ...]

    @property
    def words(self) -> str:
        return tin_words(self.tin)


def tins_of(db: Session, products: Collection[int]) -> defaultdict[int, list[Tin]]:
    """Return the tins that are there of each product, what was opened first first; one query at most."""
    found: defaultdict[int, list[Tin]] = defaultdict(list)
    if not products:
        return found
    wanted = select(Tin).where(Tin.product_id.in_(products), Tin.gone_on.is_(None))
    for tin in db.scalars(wanted.order_by(Tin.opened_on.is_(None), Tin.opened_on, Tin.id)):
        found[tin.product_id].append(tin)
    return found


def gone_of(db: Session, product_id: int) -> list[Tin]:
    """Return the tins of a product that are gone, the last ones first."""
    wanted = select(Tin).where(Tin.product_id == product_id, Tin.gone_on.is_not(None))
    return list(db.scalars(wanted.order_by(Tin.gone_on.desc(), Tin.id.desc()).limit(LISTED)))


def look(name: str, family: str, tins: Iterable[Tin], now: datetime) -> list[Looked]:
    """Return tins of a product with what is wrong with each at a moment in the shop's zone."""
    return [Looked(tin, faults_of(name, family, tin, now)) for tin in tins]


def faults_of(name: str, family: str, tin: Tin, now: datetime) -> tuple[AgeFault, ...]:
    return product_faults(
        name,
        family,
        now,
        made=tin.made_on,
        opened=tin.opened_on,
        use_by=tin.use_by,
        mixed=tin.mixed_at,
        coldest=BELOW if tin.frozen else None,
    )


def tin_words(tin: Tin) -> str:
    """Return what stands on a tin in a line: opened Mon 2, use by Wed 3 June, batch 4711."""
    said = [
        ("opened {}", tin.opened_on and day(tin.opened_on)),
        ("mixed {}", tin.mixed_at and when(tin.mixed_at)),
        ("use by {}", tin.use_by and day(tin.use_by)),
        ("made {}", tin.made_on and day(tin.made_on)),
        ("batch {}", tin.batch),
        ("{}", "has been frozen" if tin.frozen else ""),
    ]
    found = [text.format(value) for text, value in said if value]
    return ", ".join(["not opened yet", *found] if tin.opened_on is None and tin.mixed_at is None else found)
