"""The shop document: read it, plan it, print the plan.

The shape is checked by the JSON Schema of `schema.py`, everything a schema cannot say by `wrong_times.py`,
`wrong_names.py` and `circles.py`; all faults are told at once.
"""

import json
from collections.abc import Iterator, Mapping
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError

from webapp.planning.circles import circles
from webapp.planning.faults import Fault, Path, Refused, in_order, pairs, unreadable
from webapp.planning.graph import Graph
from webapp.planning.network import Document
from webapp.planning.plan import plan
from webapp.planning.printing import write
from webapp.planning.reading import to_document
from webapp.planning.schema import SCHEMA
from webapp.planning.shown import order_of
from webapp.planning.table import table
from webapp.planning.wrong_names import wrong_names
from webapp.planning.wrong_times import wrong_times

REFUSED = 2  # exit status
SCHEDULES = 300  # orders that the search tries for the command

DEEP = "not JSON: nested too deeply"

_VALIDATOR = Draft202012Validator(SCHEMA)


def read(mapping: Mapping[str, Any]) -> Document:
    """Return a shop document.

    Takes:   the document as `json.loads` gives it.
    Returns: the document; units are those of `network.py`.
    Raises:  Refused with every fault, in document order.
    Source:  the shop document.

    >>> try: read({"benchtide": 99, "now": "2026-02-02T08:00:00Z"})
    ... except Refused as refused: print(refused)
    benchtide: 99 is not a version of the format that can be read; this is version 1
    shop: is missing
    """
    faults = in_order([*_shape(mapping), *_sense(mapping)], mapping)
    if faults:
        raise Refused(faults)
    return to_document(mapping)


def answer(
    text: str, schedules: int = SCHEDULES, *, shown: str | None = None, latest: bool = False, as_table: bool = False
) -> tuple[int, str, str]:
    """Return what the command that plans a shop document says.

    Takes:   the JSON text of a document; how many orders the search may try; that of the plan last shown, to keep to
             its order; whether to lay builds backwards too; whether to print a table for people.
    Returns: exit status (0, or 2 when it is refused), standard output, standard error.
    Raises:  nothing.
    Source:  the shop document.

    >>> answer("{")
    (2, '', 'document: not JSON: Expecting property name enclosed in double quotes, line 1 column 2\\n')
    """
    try:
        document = _document(text)
        order = None if shown is None else order_of(_parsed(shown, "shown"), Graph(document))
    except Refused as refused:
        return REFUSED, "", str(refused).encode("ascii", "backslashreplace").decode("ascii") + "\n"
    found = plan(document, schedules, order, latest=latest)
    out = table(document, found) if as_table else json.dumps(write(document, found), indent=1) + "\n"
    return 0, out, ""


def _document(text: str) -> Document:
    try:
        return read(_parsed(text))
    except RecursionError:
        raise Refused([Fault((), DEEP)]) from None


def _parsed(text: str, *path: str) -> Any:
    try:
        return json.loads(text, object_pairs_hook=pairs)
    except RecursionError:
        said = DEEP
    except json.JSONDecodeError as error:
        said = f"not JSON: {error.msg}, line {error.lineno} column {error.colno}"
    except ValueError as error:
        said = f"not JSON: {error}"
    raise Refused([Fault(path, said)]) from None


def _sense(mapping: Any) -> Iterator[Fault]:
    yield from unreadable(mapping)
    if isinstance(mapping, dict):
        yield from wrong_times(mapping)
        yield from wrong_names(mapping)
        yield from circles(mapping)


def _shape(mapping: Any) -> Iterator[Fault]:
    for error in _VALIDATOR.iter_errors(mapping):
        yield from _faults(error, tuple(error.absolute_path))


def _faults(error: ValidationError, path: Path) -> Iterator[Fault]:
    """The faults that an error of the schema stands for, at the keys they are about."""
    value: Any = error.instance
    schema: Any = error.schema
    rule: Any = error.validator_value
    if error.validator == "additionalProperties":
        yield from (Fault((*path, key), "this key is not known") for key in value if key not in schema["properties"])
    elif error.validator == "required":
        missing = [key for key in rule if key not in value]
        yield from (Fault((*path, key), "is missing") for key in missing)
    else:
        yield Fault(path, _said(error))


def _said(error: ValidationError) -> str:
    value: Any = error.instance
    rule: Any = error.validator_value
    shown = json.dumps(value, default=str) if not isinstance(value, dict | list) else "this"
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    match error.validator:
        case "const":
            return f"{shown} is not a version of the format that can be read; this is version 1"
        case "type":
            kinds = rule if isinstance(rule, list) else [rule]
            return f"{shown} is not {' or '.join(_KINDS[kind] for kind in kinds)}"
        case "enum":
            return f"{shown} is not one of {', '.join(map(str, rule))}"
        case "minimum" | "exclusiveMinimum":
            return f"{shown} is too little; {'at least' if error.validator == 'minimum' else 'more than'} {rule}"
        case "maximum":
            return f"{shown} is too much; at most {rule}"
        case _:
            return _SAID.get(str(error.validator), error.message)


_KINDS = {
    "string": "a text",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "array": "a list",
    "object": "an object",
    "null": "null",
}
_SAID = {
    "minItems": "is empty; give at least one",
    "maxItems": "has too many entries",
    "minLength": "is empty",
    "maxLength": "is too long",
    "uniqueItems": "names something twice",
    "pattern": "is not written like 08:00 (a time) or 2026-02-27 (a date)",
    "minProperties": 'is empty; give "at" or "on"',
    "maxProperties": 'give "at" or "on", not both',
}
