"""What must go together in an operation: rows that are whole, stages that exist, no circle."""

from collections import Counter

from wtforms import Field

from webapp.builds.operations_form import HOLDS, STAGES, TENDS, WAITS, OperationForm
from webapp.builds.operations_offers import Offers
from webapp.builds.operations_rows import kind_of, own_stages, waits
from webapp.builds.waiting import circle, circle_in_words, edges, merged, named_by, stages_wanted

NEW = 0  # in place of the id that an operation does not have yet


def check(form: OperationForm, offered: Offers) -> bool:
    """Return whether the form can be taken; its fields say what is wrong."""
    if not form.validate():
        return False
    if not kind_of(form.kind.data or ""):
        _say(form.kind, "Choose a kind, or write a word of your own.")
    _whole_rows(form)
    _each_once(form, "hold", HOLDS, "That equipment stands here twice. Put both counts into one row.")
    _each_once(form, "stage", STAGES, "Two waits have that name. Give each its own.")
    _each_once(form, "tend", TENDS, "That stands here twice. Give each its own word.")
    _stages_exist(form, offered)
    _no_circle(form, offered)
    return not any(field.errors for field in form)


def _say(field: Field, message: str) -> None:
    field.errors = [*field.errors, message]


ROWS = (
    ("wait", WAITS, "Which operation?"),
    ("hold", HOLDS, "Which equipment?"),
    ("stage", STAGES, "What is reached then? Name it."),
    ("tend", TENDS, "What is to be done? Wipe, look, scrape …"),
)


def _whole_rows(form: OperationForm) -> None:
    for name, numbers, question in ROWS:
        for number in numbers:
            first, *others = form.row(name, number)
            if not first.data and any(field.data is not None and field.data != "" for field in others):
                _say(first, question)
    for number in STAGES:
        hours = form[f"stage_{number}_hours"]
        if form.value(f"stage_{number}") and hours.data is None:
            _say(hours, "After how many hours?")
    for number in TENDS:
        minutes = form[f"tend_{number}_minutes"]
        if form.value(f"tend_{number}") and not minutes.data:
            _say(minutes, "How long does it take?")


def _each_once(form: OperationForm, name: str, numbers: range, message: str) -> None:
    found = Counter(form.value(f"{name}_{number}") for number in numbers if form.value(f"{name}_{number}"))
    for number in reversed(numbers):
        field = form[f"{name}_{number}"]
        if found[field.data] > 1:
            found[field.data] -= 1
            _say(field, message)


def _stages_exist(form: OperationForm, offered: Offers) -> None:
    product = offered.product(form.product_id.data)
    known = merged(product.stages if product else None, own_stages(form))
    for number in HOLDS:
        until = form[f"hold_{number}_until"]
        if until.data and until.data not in known:
            _say(until, f"There is no “{until.data}” here. {_there_is(known)}")
    before = offered.stages_of(offered.itself) if offered.itself else []
    wanted = stages_wanted(offered.itself, offered.others) if offered.itself else {}
    for stage, name in wanted.items():
        if stage in before and stage not in known:
            _say(form.product_id, f"“{name}” counts on “{stage}” of this operation. Change that first.")


def _there_is(known: list[str]) -> str:
    if not known:
        return "Choose a glue or finish, add a wait of its own, or leave this empty."
    return f"There is {', '.join(f'“{stage}”' for stage in known)}."


def _no_circle(form: OperationForm, offered: Offers) -> None:
    itself = offered.itself.id if offered.itself else NEW
    named = {one.id: named_by(one) for one in offered.build.operations}
    fields = {row.operation_id: form[f"wait_{row.number}"] for row in waits(form)}
    for key in ("again_for_id", "over_id"):
        if form.value(key):
            fields.setdefault(int(form.value(key)), form[key])
    named[itself] = {key for key, field in fields.items() if field is not form.again_for_id}
    again = {one.id: one.again_for_id for one in offered.others if one.again_for_id}
    again |= dict.fromkeys([itself], int(form.again_for_id.data)) if form.again_for_id.data else {}
    way = circle(itself, edges(named, again))
    if way:
        names = {one.id: one.name for one in offered.build.operations} | {itself: form.name.data or ""}
        _say(
            fields.get(way[1] if len(way) > 1 else way[0], form.again_for_id), circle_in_words([names[k] for k in way])
        )
