"""What stands after all corrections: the journal as it is to be believed.

The journal only grows, so a wrong entry is put right by a later one that names it in `corrects`:

- an entry of any other kind *replaces* it as a whole: time, person, operation and data are those of the correction;
- an entry of the kind "withdrawn" *voids* it: it counts as if it had never been written.

A correction can itself be corrected. Of several that stand, the one that arrived last wins, by its own arrival or by
that of whatever corrected it. Withdrawing a correction brings back what stood before it: an older correction, or else
the entry itself. So undo is a withdrawal, and undoing the undo is the withdrawal of that.

A correction whose entry has not arrived stands by itself until it does (a withdrawal then does nothing). In a circle,
which only a broken writer makes, the link of the last to arrive is not followed.

Nothing is dropped from the journal: what is not in `effective` is still there to be shown, struck out.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime

from webapp.planning.entry import WITHDRAWN, Entry


def effective(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Return the entries that stand, in the order in which they happened.

    Takes:   entries in any order, some perhaps more than once.
    Returns: entries by (at, arrived, id). The same id twice is once, the first to arrive. A correction keeps the turn
             of the entry it corrects among those of the same instant. The order given makes no difference.
    Raises:  nothing.
    Source:  shop rule.

    >>> from webapp.planning.entry import utc
    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> first = Entry("a", nine, nine, "started", maker=1, operation=7)
    >>> [e.id for e in effective([first, first, correction(first, "b", arrived=ten, at=ten)])]
    ['b']
    """
    once = _once(entries)
    up = _links(once)
    stands = _resolved(once, up)
    turns = [
        ((entry.at, once[root].arrived, root), entry)
        for root, entry in stands.items()
        if up[root] is None and entry is not None and entry.kind != WITHDRAWN
    ]
    return tuple(entry for _, entry in sorted(turns, key=lambda turn: turn[0]))


def correction(
    wrong: Entry,
    new_id: str,
    *,
    arrived: datetime,
    at: datetime | None = None,
    data: Mapping[str, object] | None = None,
) -> Entry:
    """Return the entry that replaces a wrong one, with all that was right about it.

    Takes:   the entry as it stands; the new id; when the correction arrives; the right time and the right data, each
             left out where it was right.
    Returns: an entry of the same kind that names the wrong one.
    Raises:  RecordError as for any entry.
    Source:  shop rule.

    >>> from webapp.planning.entry import utc
    >>> nine, ten = utc("2026-02-02T09:00Z"), utc("2026-02-02T10:00Z")
    >>> mended = correction(Entry("a", ten, ten, "done", operation=7), "b", arrived=ten, at=nine)
    >>> mended.corrects, mended.kind, mended.at.hour
    ('a', 'done', 9)
    """
    return replace(
        wrong,
        id=new_id,
        arrived=arrived,
        at=wrong.at if at is None else at,
        data=wrong.data if data is None else data,
        corrects=wrong.id,
    )


def withdrawal(wrong: Entry, new_id: str, *, arrived: datetime) -> Entry:
    """Return the entry that voids another: undo.

    Takes:   the entry as it stands; the new id; when the withdrawal arrives.
    Returns: an entry of the kind "withdrawn", of the same maker, operation and build.
    Raises:  RecordError as for any entry.
    Source:  shop rule.

    >>> from webapp.planning.entry import utc
    >>> nine = utc("2026-02-02T09:00Z")
    >>> slip = Entry("a", nine, nine, "done", operation=7)
    >>> effective([slip, withdrawal(slip, "b", arrived=nine)])
    ()
    """
    return replace(wrong, id=new_id, arrived=arrived, at=arrived, kind=WITHDRAWN, data={}, corrects=wrong.id)


def _once(entries: Iterable[Entry]) -> dict[str, Entry]:
    once: dict[str, Entry] = {}
    for entry in entries:
        held = once.get(entry.id)
        if held is None or _copy_order(entry) < _copy_order(held):
            once[entry.id] = entry
    return once


def _copy_order(entry: Entry) -> tuple[datetime, datetime, str]:
    """Two different entries of one id and one arrival cannot be told by time; their words must not depend on luck."""
    told = (entry.kind, entry.maker, entry.operation, entry.build, entry.corrects, sorted(entry.data.items()))
    return entry.arrived, entry.at, repr(told)


def _arrival(entry: Entry) -> tuple[datetime, str]:
    return entry.arrived, entry.id


def _links(once: Mapping[str, Entry]) -> dict[str, str | None]:
    up: dict[str, str | None] = dict.fromkeys(once)
    for entry in sorted((e for e in once.values() if e.corrects in once), key=_arrival):
        if entry.id not in _chain(entry.corrects, up):
            up[entry.id] = entry.corrects
    return up


def _chain(entry_id: str | None, up: Mapping[str, str | None]) -> list[str]:
    """An entry and all that it corrects, step by step, up to the first one written."""
    chain = []
    while entry_id is not None:
        chain.append(entry_id)
        entry_id = up[entry_id]
    return chain


def _resolved(once: Mapping[str, Entry], up: Mapping[str, str | None]) -> dict[str, Entry | None]:
    """What stands in the place of each entry: itself, a correction, or None where it was withdrawn."""
    below: dict[str, list[str]] = defaultdict(list)
    for correcting, above in up.items():
        if above is not None:
            below[above].append(correcting)
    stands: dict[str, Entry | None] = dict(once)
    # The far ends of the chains first: what a correction comes to must be known before what it does.
    for corrected in sorted(below, key=lambda entry_id: len(_chain(entry_id, up)), reverse=True):
        standing = [entry for entry in (stands[correcting] for correcting in below[corrected]) if entry is not None]
        if standing:
            newest = max(standing, key=_arrival)
            stands[corrected] = None if newest.kind == WITHDRAWN else newest
    return stands
