"""Moments in few letters: large ones to be read from across the shop, short ones for a drawing."""

from datetime import datetime, timedelta

from webapp.web.clock import now
from webapp.web.filters import DAYS, MONTHS, clock_time, local, when

NEAR = timedelta(hours=40)
THIS_WEEK = timedelta(days=6)


def large(moment: datetime) -> str:
    """Return a moment to be read from a metre off: 15:52, Wed 08:00, Mon 9, Tue 1 Dec."""
    if abs(moment - now()) < NEAR:
        return short(moment)
    then = local(moment)
    month = "" if then.month == local(now()).month else f" {MONTHS[then.month - 1][:3]}"
    return f"{DAYS[then.weekday()]} {then.day}{month}"


def short(moment: datetime) -> str:
    """Return a moment as briefly as will do: 15:52, Wed 08:00, Mon 9 March, 08:00."""
    then = local(moment)
    if then.date() == local(now()).date():
        return clock_time(moment)
    if abs(moment - now()) < THIS_WEEK:
        return f"{DAYS[then.weekday()]} {clock_time(moment)}"
    return when(moment)
