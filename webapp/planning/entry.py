"""One entry of the journal: something that happened, when, by whom.

An entry is made once and never changed. Its id comes from whoever writes it, so the same line sent twice is one line.
Instants are kept in UTC; the shop's zone is a matter of the screen. What an entry *means* for an operation is folded in
`record.py`, for a person's hours in `labour.py`.

Not modelled: whether the operation or the person exists, and who may write what.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime

from webapp.trade import lengths

WITHDRAWN = "withdrawn"
BEGINS = ("started", "resumed")
KINDS = (
    *BEGINS,
    "paused",
    "done",
    "abandoned",
    "worked",
    "spread",
    "clamped",
    "reached",
    "dry-tested",
    "tended",
    "counted",
    "noted",
    "read",
    "sized",
    "photographed",
    "overruled",
    WITHDRAWN,
)
ANSWERS = ("dry", "tacky", "wet")
LONGEST_REMEMBERED = 24 * 60


class RecordError(ValueError):
    """An entry or a moment that the journal cannot take; the text says what to mend."""


def utc(value: object, what: str = "a moment") -> datetime:
    """Return a moment in UTC.

    Takes:   an aware datetime, or ISO 8601 text with an offset; what it is called in the message.
    Returns: the same instant as an aware datetime in UTC.
    Raises:  RecordError when it is not a moment, or has no zone: a wall clock alone does not say when.
    Source:  shop rule (instants are UTC).

    >>> utc("2026-02-02T08:00:00+01:00")
    datetime.datetime(2026, 2, 2, 7, 0, tzinfo=datetime.timezone.utc)
    """
    try:
        moment = datetime.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        moment = None
    if not isinstance(moment, datetime):
        raise RecordError(f"{what} must be a date and time, not {value!r}")
    if moment.tzinfo is None or moment.utcoffset() is None:
        raise RecordError(f"{what} has no time zone: {moment.isoformat()}")
    return moment.astimezone(UTC)


@dataclass(frozen=True)
class Entry:
    """Return one line of the journal, checked.

    Takes:   id; the instants it happened (`at`) and arrived; kind, one of KINDS; the ids of the maker whose line it is,
             the operation and the build, where there are any; data by kind (below); the id of the entry it corrects.
    Returns: the entry, both instants in UTC.
    Raises:  RecordError for a moment without a zone, a kind that is not known, or data its kind cannot do without.
    Source:  shop rule.

    Data by kind: `reached` stage; `dry-tested` stage, answer (dry, tacky, wet) and, unless dry, again_at (when to look
    again); `tended` key; `spread` may carry open_seconds and closed_seconds, which
    the glue gives from then on; `sized` may carry size (its key), and then actual (a length as typed);
    `counted` done (so many in all); `worked` minutes, or also day (a local date); `overruled`
    flag and reason; `done` may carry minutes (remembered) and figures, `clamped` figures: the version of the product's
    figures that the wait begins with. `paused` and `done` may carry answered, true when the maker was asked "stopped
    when?". The clock kinds without an operation carry shop_time ("sharpening") or belong to a build as a whole.

    >>> Entry("a1", utc("2026-02-02T09:00Z"), utc("2026-02-02T09:00Z"), "started", maker=1, operation=7).kind
    'started'
    """

    id: str
    at: datetime
    arrived: datetime
    kind: str
    maker: int | None = None
    operation: int | None = None
    build: int | None = None
    data: Mapping[str, object] = field(default_factory=dict, hash=False)
    corrects: str | None = None

    def __post_init__(self) -> None:
        if not self.id:
            raise RecordError("an entry needs an id")
        if self.kind not in KINDS:
            raise RecordError(f'"{self.kind}" is not a kind of entry')
        object.__setattr__(self, "at", utc(self.at, "the time it happened"))
        object.__setattr__(self, "arrived", utc(self.arrived, "the time it arrived"))
        object.__setattr__(self, "data", dict(self.data))
        _check_correction(self)
        if self.kind in _CHECKS:
            _CHECKS[self.kind](self)

    def word(self, key: str) -> str | None:
        """Return a text of the data without blanks at its ends, None where there is none.

        Takes:   the key. Returns: text, never empty. Raises: nothing. Source: shop rule.

        >>> day = utc("2026-02-02T09:00Z")
        >>> Entry("a1", day, day, "tended", data={"key": " wipe "}).word("key")
        'wipe'
        """
        value = self.data.get(key)
        return (value.strip() or None) if isinstance(value, str) else None

    def number(self, key: str) -> int | None:
        """Return a whole number of the data, None where there is none.

        Takes:   the key. Returns: an int. Raises: nothing. Source: shop rule.

        >>> day = utc("2026-02-02T09:00Z")
        >>> Entry("a1", day, day, "counted", data={"done": 15}).number("done")
        15
        """
        value = self.data.get(key)
        return value if isinstance(value, int) and not isinstance(value, bool) else None


def _check_correction(entry: Entry) -> None:
    if entry.corrects == entry.id:
        raise RecordError("an entry cannot correct itself")
    if entry.kind == WITHDRAWN and not entry.corrects:
        raise RecordError("say which entry is withdrawn")


def _words(*keys: str) -> Callable[[Entry], None]:
    def check(entry: Entry) -> None:
        for key in keys:
            if entry.word(key) is None:
                raise RecordError(f'an entry "{entry.kind}" needs its {key}')

    return check


def _dry_tested(entry: Entry) -> None:
    _words("stage", "answer")(entry)
    if entry.word("answer") not in ANSWERS:
        raise RecordError("answer dry, tacky or wet")
    if entry.word("answer") != "dry":
        if entry.data.get("again_at") is None:
            raise RecordError("say when to look again")
        utc(entry.data["again_at"], "the time to look again")


def _counted(entry: Entry) -> None:
    done = entry.number("done")
    if done is None or done < 0:
        raise RecordError("say how many are done, 0 or more")


def _sized(entry: Entry) -> None:
    if entry.word("size") is None:
        return
    _words("actual")(entry)
    try:
        lengths.read(str(entry.word("actual")), "in")
    except lengths.LengthError as error:
        raise RecordError(str(error).rstrip(".")) from None


def _worked(entry: Entry) -> None:
    _minutes(entry, needed=True)


def _done(entry: Entry) -> None:
    _minutes(entry, needed=False)


def _minutes(entry: Entry, *, needed: bool) -> None:
    minutes = entry.number("minutes")
    if minutes is None and entry.data.get("minutes") is None and not needed:
        return
    if minutes is None or not 0 < minutes <= LONGEST_REMEMBERED:
        raise RecordError("say how long it took: whole minutes, from 1 to 1440 (24 h)")
    try:
        date.fromisoformat(entry.word("day") or "2000-01-01")
    except ValueError:
        raise RecordError(f"the day it was worked is not a date: {entry.data['day']!r}") from None


_CHECKS: Mapping[str, Callable[[Entry], None]] = {
    "reached": _words("stage"),
    "tended": _words("key"),
    "overruled": _words("flag", "reason"),
    "dry-tested": _dry_tested,
    "counted": _counted,
    "sized": _sized,
    "worked": _worked,
    "done": _done,
}
