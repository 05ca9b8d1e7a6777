"""Is this tin still good: what is wrong with a product by its age, its mixing and the frost it has been through.

Old shellac and hide glue, hardened mixes and frozen waterborne finishes fail; others are doubtful and want a test. The
date on the tin comes before every figure here.

Not modelled: how it was kept.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from types import MappingProxyType

from webapp.trade.products.families import families_of
from webapp.trade.products.lives import LIVES, Life

USE_BY = "use-by"
OLD = "old"
MIXED_OUT = "mixed-out"
FROZEN = "frozen"
FREEZES_AT = 0.0
_MONTH = 365 / 12
_TITLES: Mapping[str, str] = MappingProxyType(
    {USE_BY: "Past its date", OLD: "Old", MIXED_OUT: "Mixed too long ago", FROZEN: "Has been frozen"}
)


@dataclass(frozen=True, slots=True)
class AgeFault:
    """What is wrong: its key, a sentence with the numbers, sentences of what to do; `fails`: no test will save it."""

    key: str
    found: str
    advice: tuple[str, ...]
    fails: bool

    @property
    def says(self) -> str:
        """Return all of it."""
        return " ".join((self.found, *self.advice))

    @property
    def title(self) -> str:
        """Return a few words to head it."""
        return _TITLES[self.key]


def product_faults(
    name: str,
    kind: str,
    now: datetime,
    *,
    made: date | None = None,
    opened: date | None = None,
    use_by: date | None = None,
    mixed: datetime | None = None,
    coldest: float | None = None,
) -> tuple[AgeFault, ...]:
    """Return what is wrong by its age with a product of a shop, which may be called anything.

    Takes:   what it is called; the family it says it is of ("pva", "oil"), or nothing; the moment of use; where known:
             the days it was made and opened and the last day it is good for, in the shop's zone as `now` is; when it
             was mixed (both with a zone or both without); the lowest temperature it has been at, °C.
    Returns: faults that hold for every family it may be one of, by the one that keeps best, what fails first; none
             where nothing is known against it, which is no promise. Of a product nobody knows, only that its date is
             past. What several of them advise only the last one says.
    Raises:  nothing.
    Source:  `lives.LIVES`, each figure with its own.

    >>> day = datetime(2026, 2, 3, 9)
    >>> product_faults("shellac", "", day, opened=date(2025, 1, 10))[0].says[:58]
    'Opened 13 months ago, and it keeps about 6 months. It will'
    >>> product_faults("our mystery", "", day, use_by=date(2026, 1, 1))[0].says
    'Its date is 33 days past (1 Jan 2026). It may still be good. Try it on scrap first.'
    """
    lives = {LIVES.get(one.name, Life()): None for one in families_of(name, kind)} or {Life(): None}
    found = [_faults(life, now, made, opened, use_by, mixed, coldest) for life in lives]
    mildest = min(found, key=lambda faults: (len(faults), sum(fault.fails for fault in faults)))
    keys = set.intersection(*({one.key for one in faults} for faults in found))
    return _advised_once([one for one in mildest if one.key in keys])


def _advised_once(faults: Sequence[AgeFault]) -> tuple[AgeFault, ...]:
    """Faults of one tin, of which only the last says what several of them advise."""
    return tuple(
        replace(one, advice=tuple(text for text in one.advice if not any(text in later.advice for later in faults[n:])))
        for n, one in enumerate(faults, 1)
    )


def _faults(
    life: Life,
    now: datetime,
    made: date | None,
    opened: date | None,
    use_by: date | None,
    mixed: datetime | None,
    coldest: float | None,
) -> tuple[AgeFault, ...]:
    today = now.date()
    found = [
        _past_date(use_by, today, life),
        _too_old("Opened", opened, today, life.opened_days, life),
        _too_old("Made", made, today, life.closed_days if opened is None else None, life),
        _mixed_out(mixed, now, life),
        _frozen(coldest, life),
    ]
    return tuple(sorted((fault for fault in found if fault), key=lambda fault: not fault.fails))


def _past_date(use_by: date | None, today: date, life: Life) -> AgeFault | None:
    if use_by is None or today <= use_by:
        return None
    past = _long((today - use_by).days)
    return AgeFault(USE_BY, f"Its date is {past} past ({use_by.day} {use_by:%b %Y}).", _do(life), life.fails)


def _too_old(how: str, since: date | None, today: date, days: int | None, life: Life) -> AgeFault | None:
    if since is None or days is None or (today - since).days <= days:
        return None
    found = f"{how} {_long((today - since).days)} ago, and it keeps about {_long(days)}."
    return AgeFault(OLD, found, _do(life), life.fails)


def _mixed_out(mixed: datetime | None, now: datetime, life: Life) -> AgeFault | None:
    if mixed is None or life.mixed_hours is None:
        return None
    hours = (now - mixed).total_seconds() / 3600
    if hours <= life.mixed_hours:
        return None
    found = f"Mixed {_span(hours)} ago, and it keeps {_span(life.mixed_hours)} once mixed."
    return AgeFault(MIXED_OUT, found, ("Mix it fresh.",), fails=True)


def _frozen(coldest: float | None, life: Life) -> AgeFault | None:
    if coldest is None or coldest >= FREEZES_AT or not life.frost:
        return None
    fails = life.frost == "spoils"
    rest = "It has broken: take another tin." if fails else "It may stand that a few times."
    return AgeFault(FROZEN, "It has been frozen.", (rest, life.test), fails)


def _do(life: Life) -> tuple[str, str]:
    return "It will not harden well: take another." if life.fails else "It may still be good.", life.test


def _span(hours: float) -> str:
    if hours < 1:
        return f"{hours * 60:.0f} min"
    return f"{hours:.0f} h" if hours < 48 else _long(round(hours / 24))


def _long(days: int) -> str:
    if days < 60:
        return f"{days} day{'s' if days != 1 else ''}"
    return f"{round(days / _MONTH)} months"
