"""What the rows of a file say together: hours that do not cross, figures as the shop document has them, no circles,
lines that the journal takes. What any single value must be is looked at before.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any

from jsonschema import Draft202012Validator

from webapp.builds.waiting import circle, circle_in_words, edges
from webapp.exports.checking import Checked
from webapp.exports.reading import RefusedError, refuse
from webapp.exports.row import Row
from webapp.planning import entry as planning
from webapp.planning.faults import Path
from webapp.planning.schema import BUILD, OPERATION, PRODUCT
from webapp.planning.wrong_names import wrong_names

MOST_OPERATIONS = 2_000  # of one build
MOST_MAKERS = 200
MOMENT = datetime(2000, 1, 1, tzinfo=UTC)
LONGEST_REASON = 200

_PRODUCT = Draft202012Validator(PRODUCT)
_STAGES = Draft202012Validator(OPERATION["properties"]["stages"])
_TEND = Draft202012Validator(PRODUCT["properties"]["tend"])
_DONE_AT = Draft202012Validator(BUILD["properties"]["done_at"])


def check_sense(found: Checked) -> None:
    """Raise RefusedError at the first place where rows do not go together."""
    for check in CHECKS:
        for fault in check(found.rows):
            raise fault


Rows = Mapping[str, list[Row]]


def _in_order(rows: Iterable[Row], first: str, last: str, says: str, *, alike: bool = True) -> Iterator[RefusedError]:
    for row in rows:
        start, end = row.values[first], row.values[last]
        if start > end or (start == end and not alike):
            yield refuse((*row.path, last), says)


def _hours(rows: Rows) -> Iterator[RefusedError]:
    for name in ("hours", "extra"):
        yield from _in_order(rows[name], "opens", "closes", "it closes before it opens.", alike=False)
    yield from _in_order(rows["closed"], "first_on", "last_on", "the last day is before the first.")
    yield from _in_order(rows["shop"], "day_from", "day_to", "the night begins before the day.", alike=False)
    of: dict[Any, list[Row]] = defaultdict(list)
    for row in rows["hours"]:
        of[row.above, row.values["weekday"]].append(row)
    for several in of.values():
        for one, other in pairwise(sorted(several, key=lambda row: int(row.values["opens"]))):
            if other.values["opens"] < one.values["closes"]:
                yield refuse(other.path, "these hours overlap others of that day.")


def _makers(rows: Rows) -> Iterator[RefusedError]:
    if len(rows["makers"]) > MOST_MAKERS:
        yield refuse(("makers",), f"there are more than {MOST_MAKERS}.")


def _figures(rows: Rows) -> Iterator[RefusedError]:
    """Hold the figures of each product to the schema and the names of the shop document."""
    have = {row.above for row in rows["figures"]}
    for product in rows["products"]:
        if product not in have:
            yield refuse((*product.path, "figures"), "are missing: a product has at least one version of them.")
    known = {row.values[column] for row in rows["products"] for column in ("name", "family")}
    for row in rows["figures"]:
        assert row.above is not None
        told = {"name": row.above.values["name"], "family": row.above.values["family"]}
        if not isinstance(row.values["data"], dict):
            yield refuse((*row.path, "data"), "this is not an object.")
        yield from _by_schema(_PRODUCT, {**told, **row.values["data"]}, (*row.path, "data"))
        data = {key: value for key, value in row.values["data"].items() if value is not None}
        data["recoat_over"] = {name: one for name, one in data.get("recoat_over", {}).items() if name in known}
        named = [{"name": name} for name in known - {told["name"]}]
        for fault in wrong_names({"products": [{**told, **data}, *named]}):
            yield refuse((*row.path, "data", *fault.path[2:]), f"{fault.message}.")


def _by_schema(schema: Draft202012Validator, value: Any, path: Path) -> Iterator[RefusedError]:
    for error in schema.iter_errors(value):
        yield refuse((*path, *error.absolute_path), f"{error.message[:LONGEST_REASON]}.")


def _operations(rows: Rows) -> Iterator[RefusedError]:
    for row in rows["operations"]:
        values = row.values
        for name, schema, key in (("stages", _STAGES, "name"), ("tend", _TEND, "key")):
            if values[name] is not None:
                yield from _by_schema(schema, values[name], (*row.path, name))
                yield from _each_once(values[name], key, (*row.path, name))
        if values["low"] is not None and values["low"] > values["minutes"]:
            yield refuse((*row.path, "low"), "at best it cannot take longer than is likely.")
        if values["high"] is not None and values["high"] < values["minutes"]:
            yield refuse((*row.path, "high"), "at worst it cannot take less than is likely.")
        if values["pinned_at"] and values["pinned_on"]:
            yield refuse((*row.path, "pinned_on"), "it is fixed to a moment already.")


def _each_once(rows: Iterable[Mapping[str, Any]], key: str, path: Path) -> Iterator[RefusedError]:
    seen: set[Any] = set()
    for number, row in enumerate(rows):
        if row[key] in seen:
            yield refuse((*path, number, key), "this stands here twice.")
        seen.add(row[key])


def _hand_over(rows: Rows) -> Iterator[RefusedError]:
    keys: dict[Row | None, set[str]] = defaultdict(set)
    for row in rows["operations"]:
        keys[row.above].add(row.values["key"])
    for build in rows["builds"]:
        path = (*build.path, "done_at")
        yield from _by_schema(_DONE_AT, build.values["done_at"] or [], path)
        for number, one in enumerate(build.values["done_at"] or ()):
            if one["operation"] not in keys[build]:
                yield refuse((*path, number, "operation"), "there is no such operation in this build.")


def _circles(rows: Rows) -> Iterator[RefusedError]:
    """Refuse work that waits for itself, as the form of an operation does."""
    of: dict[Row | None, list[Row]] = defaultdict(list)
    for row in rows["operations"]:
        of[row.above].append(row)
    links: dict[Row | None, list[Row]] = defaultdict(list)
    for link in rows["after"]:
        links[link.above].append(link)
    for build, operations in of.items():
        if build is not None and len(operations) > MOST_OPERATIONS:
            yield refuse((*build.path, "operations"), f"there are more than {MOST_OPERATIONS:,}.")
        yield from _circles_of(operations, links)


def _circles_of(operations: list[Row], links: Mapping[Row | None, list[Row]]) -> Iterator[RefusedError]:
    number = {row: at for at, row in enumerate(operations)}
    named: dict[int, set[int]] = {}
    for row, at in number.items():
        lower = [row.names["over_id"], *(link.names["waits_for_id"] for link in links[row])]
        named[at] = {number[one] for one in lower if one is not None}
    again = {at: number[row.names["again_for_id"]] for row, at in number.items() if row.names["again_for_id"]}
    waits = edges(named, again)
    left = _never_ready(waits)
    for at in sorted(left):
        way = circle(at, waits)
        if way:
            words = circle_in_words([operations[one].values["name"] for one in way])
            yield refuse((*operations[at].path, "after"), words)


def _never_ready(waits: Mapping[int, Iterable[int]]) -> set[int]:
    """Return the operations that lie on a circle or wait for one, in a time that grows with the links alone."""
    open_ = {one: set(others) for one, others in waits.items()}
    followers: dict[int, list[int]] = defaultdict(list)
    for one, others in open_.items():
        for other in others:
            followers[other].append(one)
    ready = [one for one, others in open_.items() if not others]
    while ready:
        done = ready.pop()
        del open_[done]
        for later in followers[done]:
            open_[later].discard(done)
            if not open_[later]:
                ready.append(later)
    return set(open_)


def _journal(rows: Rows) -> Iterator[RefusedError]:
    """Hold each line to what the journal takes."""
    for row in rows["journal"]:
        values = row.values
        corrects = values.get("corrects")
        try:
            planning.Entry(row.key, values["at"], MOMENT, values["kind"], data=values["data"], corrects=corrects)
        except planning.RecordError as error:
            yield refuse(row.path, f"{error}.")


CHECKS: tuple[Callable[[Rows], Iterator[RefusedError]], ...] = (
    _hours,
    _makers,
    _figures,
    _operations,
    _hand_over,
    _circles,
    _journal,
)
