"""The newest reading and how old it is, as pages show it beside the form that takes the next one."""

from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from webapp.db.session import session
from webapp.shops.actions import READING_HOLDS, this_shop
from webapp.shops.forms import AirForm
from webapp.shops.models import Reading
from webapp.web.clock import now
from webapp.web.filters import span, temperature, when
from webapp.web.guard import visitor

A_MINUTE = timedelta(minutes=1)


def air_words(reading: Reading) -> str:
    """Return the figures of a reading: 61 °F, 45 %."""
    warm = "" if reading.temperature is None else temperature(reading.temperature)
    humid = "" if reading.humidity is None else f"{round(reading.humidity, 1):g} %"
    return ", ".join(filter(None, (warm, humid)))


def ago(moment: datetime) -> str:
    """Return how long ago something was, in the words of the clocks that run on in the page."""
    since = now() - moment
    return f"{span(since.total_seconds() / 60)} ago" if since >= A_MINUTE else "now"


def reading_of(form: AirForm, at: datetime, counts: bool | None) -> Reading:
    """Return the row of what was typed; nothing is said of whether hours count where that is None."""
    shop = visitor().shop
    return Reading(
        shop_id=shop.id,
        room_id=form.room,
        at=at,
        temperature=form.temperature.data,
        unit=shop.temperature_unit,
        humidity=form.humidity.data,
        counts=counts,
    )


def newest(db: Session, shop_id: int, at: datetime) -> Reading | None:
    """Return the last reading of a shop, however long ago it was."""
    wanted = select(Reading).where(Reading.shop_id == shop_id, Reading.at <= at)
    return db.scalar(wanted.order_by(Reading.at.desc(), Reading.id.desc()).limit(1))


def standing_still(db: Session, shop_id: int, at: datetime) -> Reading | None:
    """Return the reading by which waits stand still at a moment, if there is one."""
    said = select(Reading).where(Reading.shop_id == shop_id, Reading.at <= at, Reading.at > at - READING_HOLDS)
    said = said.where(Reading.counts.is_not(None)).order_by(Reading.at.desc(), Reading.id.desc())
    found = db.scalar(said.limit(1))
    return found if found is not None and found.counts is False else None


def is_still() -> bool:
    """Return whether waits stand still in the whole shop: a form that says otherwise lets them run."""
    found = standing_still(session(), visitor().shop.id, now())
    return found is not None and found.room_id is None


def air_of_form(form: AirForm) -> dict[str, Any]:
    """Return what the form stands beside; the form is told which rooms there are."""
    shop = this_shop()
    form.offer(shop.rooms)
    last = newest(session(), shop.id, now())
    holds = last is not None and last.at > now() - READING_HOLDS
    asks = holds and last is not None and last.counts is not True
    still = standing_still(session(), shop.id, now()) if asks else None
    return {
        "form": form,
        "has_rooms": len(shop.rooms) > 1,
        "last": last,
        "room": next((room.name for room in shop.rooms if last is not None and room.id == last.room_id), ""),
        "age": "" if last is None else ago(last.at) if holds else when(last.at),
        "holds": holds,
        "still": still,
    }
