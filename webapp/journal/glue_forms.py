"""Forms of a glue-up: how long its dry run took, and into how many goes it is split."""

from datetime import UTC, datetime, timedelta
from math import ceil

import wtforms

from webapp.web.clock import now
from webapp.web.fields import SpanField, WholeField
from webapp.web.forms import Form, Needed

LONGEST_RUN = timedelta(hours=4)  # a clock that ran on longer was forgotten
MOST_PARTS = 9


class DryRunForm(Form):
    """The dry run as typed, or from the moment it began until now."""

    since = wtforms.HiddenField()
    minutes = SpanField("The dry run took", description="Like 18, or 18 min.", render_kw={"inputmode": "text"})

    def took(self) -> int | None:
        """Return whole minutes, a begun one counted; None, with a message, where nothing tells."""
        if not self.validate():
            return None
        if self.minutes.data is None:
            began = began_at(self.since.data)
            self.minutes.data = ceil((now() - began).total_seconds() / 60) or 1 if began else None
        if not self.minutes.data:
            self.minutes.errors = ["How long did it take? At least 1 min."]
        return self.minutes.data or None


def began_at(text: str | None) -> datetime | None:
    """Return when a dry run began, by the address of its page; None where that cannot be."""
    try:
        began = datetime.fromisoformat(text or "")
    except ValueError:
        return None
    if began.tzinfo is None or not timedelta(0) <= now() - began <= LONGEST_RUN:
        return None
    return began.astimezone(UTC)


class SplitForm(Form):
    parts = WholeField("In how many goes", [Needed()], least=2, most=MOST_PARTS, render_kw={"inputmode": "numeric"})
