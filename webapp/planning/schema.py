"""The JSON Schema of the shop document (draft 2020-12): its shape, its keys, its ranges.

What a schema cannot say (references, circles, hours that overlap, times that are none) is in `faults.py`. It is kept as
Python because this floor reads no files; `json.dumps(SCHEMA)` is the schema to hand out.
"""

from typing import Any

JsonSchema = dict[str, Any]

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TIME = r"^([01][0-9]|2[0-3]):[0-5][0-9]$"
CLOSING = r"^(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$"
DATE = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"
MOST_MINUTES = 1_000_000
MOST_HOURS = 100_000


def _object(required: str, **properties: JsonSchema) -> JsonSchema:
    # "from" is no Python name, so its property is written "from_".
    return {
        "type": "object",
        "properties": {key.rstrip("_"): value for key, value in properties.items()},
        "required": required.split(),
        "additionalProperties": False,
    }


def _list(items: JsonSchema, **more: Any) -> JsonSchema:
    return {"type": "array", "items": items, **more}


def _or_null(schema: JsonSchema) -> JsonSchema:
    return {**schema, "type": [schema["type"], "null"]}


def _whole(least: int, most: int = MOST_MINUTES) -> JsonSchema:
    return {"type": "integer", "minimum": least, "maximum": most}


def _number(least: float, most: float) -> JsonSchema:
    return {"type": "number", "minimum": least, "maximum": most}


def _by_type(kind: str, then: JsonSchema, otherwise: JsonSchema) -> JsonSchema:
    """One of two shapes, told apart by type, so that a fault inside is named where it is."""
    return {"if": {"type": kind}, "then": then, "else": otherwise}


NAME: JsonSchema = {"type": "string", "minLength": 1, "maxLength": 1000}
TEXT: JsonSchema = {"type": "string", "maxLength": 10_000}
YES: JsonSchema = {"type": "boolean"}
INSTANT: JsonSchema = {"type": "string", "description": "ISO 8601 with an offset"}
LOCAL_DATE: JsonSchema = {"type": "string", "pattern": DATE}
DAY_OR_INSTANT: JsonSchema = {"type": "string", "description": "a local date, or ISO 8601 with an offset"}
TEMPERATURE = _number(-300, 1000)
DIFFERENCE: JsonSchema = {"type": "number", "exclusiveMinimum": 0, "maximum": 1000}
HUMIDITY = _number(0, 100)
HOURS = _number(0, MOST_HOURS)

OPENING = _object(
    "days open close",
    days=_list({"enum": list(WEEKDAYS)}, minItems=1, uniqueItems=True),
    open={"type": "string", "pattern": TIME},
    close={"type": "string", "pattern": CLOSING},
)
EXTRA = _object(
    "date open close",
    date=LOCAL_DATE,
    open={"type": "string", "pattern": TIME},
    close={"type": "string", "pattern": CLOSING},
)
PROFILE: JsonSchema = {
    "day": TEMPERATURE,
    "night": TEMPERATURE,
    "day_from": {"type": "string", "pattern": TIME},
    "day_to": {"type": "string", "pattern": CLOSING},
    "humidity": HUMIDITY,
}
READING = _object(
    "at",
    at=INSTANT,
    temperature=_or_null(TEMPERATURE),
    humidity=_or_null(HUMIDITY),
    room=_or_null(NAME),
    counts=_or_null(YES),
)
SHOP = _object(
    "time_zone hours climate",
    time_zone=NAME,
    hours=_list(OPENING),
    closed=_list(_object("from", from_=LOCAL_DATE, to=LOCAL_DATE, note=_or_null(TEXT))),
    extra=_list(EXTRA),
    makers=_by_type(
        "array",
        _list(_object("name", name=NAME, hours=_or_null(_list(OPENING))), minItems=1, maxItems=200),
        _whole(1, 200),
    ),
    least_minutes=_whole(0),
    equipment=_list(_object("name count", name=NAME, count=_whole(0))),
    rooms=_list(
        _object(
            "name",
            name=NAME,
            drying_places=_or_null(_whole(1)),
            settle_minutes=_whole(0),
            climate=_or_null(_object("", **PROFILE)),
        )
    ),
    climate=_object("day night", **PROFILE, readings=_list(READING)),
)
STAGE = _object("name hours", name=NAME, hours=HOURS, doubles_per=_or_null(DIFFERENCE))
WINDOW = _object("from_hours", from_hours=HOURS, to_hours=_or_null(HOURS), needs=_list(NAME, uniqueItems=True))
PRODUCT = _object(
    "name",
    name=NAME,
    family=_or_null(TEXT),
    rated_at=_or_null(TEMPERATURE),
    doubles_per=_or_null(DIFFERENCE),
    faster_when_warm=YES,
    faster_per=_or_null(DIFFERENCE),
    lowest=_or_null(TEMPERATURE),
    lowest_for_hours=HOURS,
    counts_above=_or_null(TEMPERATURE),
    humidity_max=_or_null(HUMIDITY),
    dew_gap=_or_null(_number(0, 1000)),
    open_minutes=_or_null(_whole(1)),
    stages=_list(STAGE),
    tend=_list(
        _object("key at_minutes minutes", key=NAME, at_minutes=_whole(0), within_minutes=_whole(0), minutes=_whole(1))
    ),
    recoat=_list(WINDOW),
    recoat_over={"type": "object", "additionalProperties": _list(WINDOW)},
    missed_needs=_list(NAME, uniqueItems=True),
    dust_free=_or_null(NAME),
)
# A rule for the cold has to say which temperature the figures are for.
PRODUCT["if"] = {"required": ["doubles_per"], "properties": {"doubles_per": {"type": "number"}}}
PRODUCT["then"] = {"required": ["rated_at"], "properties": {"rated_at": {"type": "number"}}}

ESTIMATE = _object("low likely high", low=_whole(1), likely=_whole(1), high=_whole(1))
OPERATION = _object(
    "key kind minutes",
    key=NAME,
    name=_or_null(TEXT),
    group=_or_null(TEXT),
    kind=NAME,
    minutes=_by_type("object", ESTIMATE, _whole(1)),
    split=_or_null(YES),
    dusty=_or_null(YES),
    makers=_whole(1, 200),
    room=_or_null(NAME),
    product=_or_null(NAME),
    count=_whole(1),
    done=_whole(0),
    stages=_list(STAGE),
    equipment=_list(_object("name count", name=NAME, count=_whole(1), until=_or_null(NAME))),
    after=_list(
        _object(
            "operation",
            operation=NAME,
            stage=_or_null(NAME),
            lag_minutes=_whole(0),
            within_minutes=_or_null(_whole(0)),
        )
    ),
    over=_or_null(NAME),
    not_before=_or_null(INSTANT),
    pinned={
        "type": ["object", "null"],
        "properties": {"at": INSTANT, "on": LOCAL_DATE},
        "minProperties": 1,
        "maxProperties": 1,
        "additionalProperties": False,
    },
    assembly_minutes=_or_null(_whole(0)),
    started=_or_null(INSTANT),
    paused=YES,
    finished=_or_null(INSTANT),
    abandoned=_or_null(INSTANT),
    worked_minutes=_whole(0),
    wait_began=_or_null(INSTANT),
    reached={"type": "object", "additionalProperties": INSTANT},
    overruled=_list(NAME),
    again_for=_or_null(NAME),
)
BUILD = _object(
    "name operations",
    name=NAME,
    due=_or_null(DAY_OR_INSTANT),
    not_before=_or_null(DAY_OR_INSTANT),
    weight=_number(0, 1_000_000),
    done_at=_list(_object("operation stage", operation=NAME, stage=NAME)),
    operations=_list(OPERATION, minItems=1),
)
SCHEMA: JsonSchema = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "Benchtide shop document",
    **_object(
        "benchtide now shop",
        benchtide={"const": 1},
        now=INSTANT,
        temperature_unit={"enum": ["C", "F"]},
        shop=SHOP,
        products=_list(PRODUCT),
        builds=_list(BUILD),
    ),
}
