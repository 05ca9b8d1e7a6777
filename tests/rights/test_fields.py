"""Every id in every field of every form, put in the place of one's own; and fields that no form has."""

import inspect
import re
from collections.abc import Iterator
from functools import cache

import pytest

from tests.rights import pages
from tests.rights.conftest import Begin
from tests.rights.marks import FIRST, NOBODYS, OURS, TABLES, THEIRS, one_twin, twin
from tests.rights.offers import endpoint_of, offers_of
from tests.rights.sweep import Answer, Sweep, routes
from webapp.tables import metadata
from webapp.web.forms import Form

# what is typed into empty fields that cannot stay so
FILLED = {
    "name": "thing", "note": "remark", "kind": "mill", "minutes": "30", "quantity": "1", "unit": "pcs",
    "unit_price": "1", "temperature": "60", "what": "sweeping", "reason": "a slip", "first_on": "2026-03-02",
    "reading": "9", "distance": "12 in", "screw": "5 mm", "opening": "16 in", "groove": "10 mm", "hold": "5 mm",
    "clear": "1 mm", "target": "1 in", "actual": "1 in", "radial": "0.001", "tangential": "0.002",
    "on_day": "2026-03-07", "opens": "08:00", "closes": "12:00", "count": "1", "hour": "30", "family": "pva",
    "source": "the label", "source_on": "2026-02-03", "password": "plane iron walnut", "hours": "1", "why": "a new can",
    "delivered_on": "2026-02-03",
}  # fmt: skip
# forms that do not go through as they stand on the page, none of which holds an id
NOT_TAKEN = {
    "people.password.update": "asks for the password",
    "people.create_sign_in": "asks for the password",
    "photos.create": "wants a picture",
    "exports.imports.create": "wants a file; what may be in it is tried in tests/exports",
    "builds.delete": "wants the name of the piece",
    "journal.wait.create_stage": "opened without saying which wait, as no link does",
}
# fields whose value may name what is not there: nothing comes of it
LED_ON = {"next": "only where to go afterwards, and that page is guarded by itself"}
GONE_WITHOUT_A_WORD = {
    ("builds.operations.place", "before"): "what is not in the build is before nothing, so it goes last",
}
READ = re.compile(r'request\.(?:form|values)(?:\.get(?:list)?)?[\[(]"([\w-]+)"|"([\w-]+)" (?:not )?in request\.form')
ASKED = re.compile(r'request\.(?:args|values)(?:\.get(?:list)?)?[\[(]"([\w-]+)"|"([\w-]+)" in request\.args')
PRIVILEGES = {"role": "owner", "is_invented": "y", "retired": "y", "is_cover": "y", "left_on": "2026-02-02"}
# which fields a view reads does not depend on the database; what becomes of an id in one does, and is tried on both
ONE_DATABASE = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
SALTED = {"receipt", "sign_in", "person", "sensor"}  # tables with something random in them


def test_an_id_of_theirs_in_a_field_is_as_one_of_nobody(sweeping: Begin) -> None:
    """It is refused, changes nothing of theirs, tells nothing of it, and nothing of ours leads to it."""
    sweep = sweeping("owner")
    on_sqlite = sweep.connection.dialect.name == "sqlite"
    for form in offers_of(sweep).forms.values():
        sweep.counted["forms"] += 1
        endpoint = endpoint_of(sweep.app, form.action, "POST")
        if any(_with_ids(form)) and form.taken_with is None:
            _taken(sweep, form)
        button = form.taken_with or {}
        for name, value in _with_ids(form):
            for theirs, nobodys in zip(one_twin(value), one_twin(value, NOBODYS), strict=True):
                sweep.counted["fields"] += 1
                answer = sweep.ask("POST", form.action, form.sent(FILLED, **{**button, name: theirs}))
                if on_sqlite:  # the page that says so is the same on both
                    other = sweep.ask("POST", form.action, form.sent(FILLED, **{**button, name: nobodys}))
                    _compare(sweep, answer, other, theirs, nobodys, f"{endpoint} {name}")
                if answer.status < 400 and name not in LED_ON and (endpoint, name) not in GONE_WITHOUT_A_WORD:
                    sweep.note(answer, f"took {name}={theirs}")
    sweep.report("ids in fields")
    assert sweep.counted["fields"] > 50, "the pages offer more than that"


def _taken(sweep: Sweep, form: pages.Form) -> Answer | None:
    """Return the answer to a form that goes through, with whichever button; none when it does not."""
    for button in form.buttons if form.taken_with is None else [form.taken_with]:
        answer = sweep.ask("POST", form.action, form.sent(FILLED, **button))
        if answer.status == 303:
            form.taken_with = button
            return answer
    return None


def _with_ids(form: pages.Form) -> Iterator[tuple[str, str]]:
    """Yield (name, value) of each field with a value in which there is an id: one for each kind of row."""
    for one in form.fields.values():
        kinds = {}
        for value in one.values:
            for found in one_twin(value):
                kinds.setdefault(_kind(found), value)
                break
        yield from ((one.name, value) for value in kinds.values())


def _kind(theirs: str) -> str:
    found = re.search(r"3\d{5}", theirs)
    return found[0][:3] if found else "line"


def _compare(sweep: Sweep, answer: Answer, other: Answer, theirs: str, nobodys: str, what: str) -> None:
    if answer.said(but=theirs) != other.said(but=nobodys):
        sweep.note(answer, f"{what}={theirs} differs from what is nowhere ({other.status})")


@ONE_DATABASE
def test_what_a_view_reads_besides_its_form_takes_nothing_of_theirs(sweeping: Begin) -> None:
    """Names that a view looks for in an address or a form, found in its source."""
    sweep = sweeping("owner")
    forms = {endpoint_of(sweep.app, form.action, "POST"): form for form in offers_of(sweep).forms.values()}
    for route in routes(sweep.app, sweep.ours):
        form = forms.get(route.endpoint)
        if route.method != "GET" and form is None:
            continue
        for name in sorted(_names_read(sweep, route.endpoint, ASKED if route.method == "GET" else READ)):
            for own in _ids_for(sweep, name):
                sweep.counted["names"] += 1
                theirs, nobodys = twin(own), twin(own, NOBODYS)
                if form is None:
                    addresses = [_asked(route.address(), name, one, own) for one in (theirs, nobodys)]
                    answer, other = (sweep.ask("GET", address) for address in addresses)
                else:
                    typed = [form.sent(FILLED, **{name: one}) for one in (theirs, nobodys)]
                    answer, other = (sweep.ask("POST", form.action, one) for one in typed)
                _compare(sweep, answer, other, theirs, nobodys, name)
    sweep.report("names read")


def _asked(address: str, name: str, value: str, own: str) -> str:
    """Two of a kind: where one is read it is theirs, where two are laid side by side one is ours."""
    return f"{address}{'&' if '?' in address else '?'}{name}={value}&{name}={own}"


def _names_read(sweep: Sweep, endpoint: str, pattern: re.Pattern[str]) -> set[str]:
    """Names in the source of a view, and in what the views of its file share."""
    views = [inspect.unwrap(view) for view in sweep.app.view_functions.values()]
    mine = inspect.unwrap(sweep.app.view_functions[endpoint])
    text = _source(inspect.getmodule(mine))
    for other in views:
        if other is not mine and other.__module__ == mine.__module__:
            text = text.replace(_source(other), "")
    return {one or other for one, other in pattern.findall(text)} - set(LED_ON)


_source = cache(inspect.getsource)


def _ids_for(sweep: Sweep, name: str) -> list[str]:
    table = name.removesuffix("_id")
    if table in TABLES:
        return [str(FIRST[OURS] + 1000 * TABLES.index(table) + 1)]
    return [str(sweep.ours.values[one]) for one in ("build_id", "operation_id", "photo_id")]


@ONE_DATABASE
def test_forms_are_taken_and_fields_they_do_not_have_change_nothing(sweeping: Begin) -> None:
    """Each form as it stands on the page goes through, else the sweep would prove nothing; then once more with every
    column of every table sent along: shop_id, role, person_id, is_invented …
    """
    sweep = sweeping("owner")
    known = {name for form in _forms() for name in vars(form)}
    sweep.keeps_ours = True
    for form in offers_of(sweep).forms.values():
        endpoint, plain = endpoint_of(sweep.app, form.action, "POST"), _taken(sweep, form)
        if plain is None:
            if endpoint not in NOT_TAKEN:
                sweep.wrong.append(f"{endpoint}: not taken: {form.sent(FILLED)}")
            continue
        more = {name: value for name, value in _columns(known) if name not in form.fields}
        stuffed = sweep.ask("POST", form.action, form.sent(FILLED, **(form.taken_with or {}), **more))
        sweep.counted["columns"] += len(more)
        if (plain.status, plain.response.location) != (stuffed.status, stuffed.response.location):
            sweep.note(stuffed, f"instead of {plain.status}, with fields it does not have")
        for name in plain.ours:
            if name not in SALTED and plain.ours[name] != stuffed.ours.get(name):
                sweep.note(stuffed, f"changed {name} by fields it does not have")
    sweep.report("fields that no form has")


def _forms(of: type[Form] = Form) -> Iterator[type[Form]]:
    for form in of.__subclasses__():
        yield form
        yield from _forms(form)


def _columns(known: set[str]) -> Iterator[tuple[str, str]]:
    """Yield (column, value): every reference to another row, and what no form of the app sets by this name."""
    for table in metadata.sorted_tables:
        for column in table.columns:
            keys = [key.column.table.name for key in column.foreign_keys]
            if keys or column.name not in known or column.name == "role":
                number = FIRST[THEIRS] + 1000 * TABLES.index(keys[0] if keys else table.name) + 1
                yield column.name, PRIVILEGES.get(column.name, str(number))
