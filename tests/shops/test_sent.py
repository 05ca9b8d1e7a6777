"""What a sensor sends, read strictly. No database: the object, the rooms, the moment."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from webapp.shops.models import Room
from webapp.shops.sent import Sent, SentError, read, sent_of

NOW = datetime(2026, 2, 2, 8, 0, tzinfo=UTC)
ROOMS = [Room(id=1, name="Shop"), Room(id=2, name="Loft"), Room(id=3, name="shop")]
FULL = {"temperature": 14.5, "unit": "C", "humidity": 58, "room": "shop", "at": "2026-02-02T07:30:00+01:00"}


def sent(found: Any, own: int | None = None) -> Sent:
    return sent_of(read(found if isinstance(found, bytes) else json.dumps(found).encode()), ROOMS, own, NOW)


def test_the_example_is_read() -> None:
    assert sent(FULL) == Sent(datetime(2026, 2, 2, 6, 30, tzinfo=UTC), 14.5, "C", 58.0, 3)


@pytest.mark.parametrize(
    ("found", "own", "expected"),
    [
        ({"humidity": 58.04}, None, Sent(NOW, None, "C", 58.0, None)),
        ({"temperature": 58.1, "unit": "F"}, 2, Sent(NOW, 14.5, "F", None, 2)),  # (58.1 - 32) * 5 / 9
        ({"temperature": -0.04, "unit": "C", "room": "LOFT"}, 2, Sent(NOW, 0.0, "C", None, 2)),
        ({"humidity": 0, "at": "2026-02-02T08:05:00.9Z"}, None, Sent(NOW + timedelta(minutes=5), None, "C", 0.0, None)),
        ({"humidity": 100, "at": "2026-01-26T08:00Z"}, None, Sent(NOW - timedelta(days=7), None, "C", 100.0, None)),
    ],
)
def test_what_is_right_is_taken(found: dict[str, Any], own: int | None, expected: Sent) -> None:
    assert sent(found, own) == expected


@pytest.mark.parametrize(
    ("found", "field"),
    [
        ({}, "temperature"),
        ({"unit": "C"}, "temperature"),
        ({"temperature": 14.5}, "unit"),
        ({"temperature": 14.5, "unit": "K"}, "unit"),
        ({"temperature": 14.5, "unit": ["C"]}, "unit"),
        ({"temperature": "14.5", "unit": "C"}, "temperature"),
        ({"temperature": True, "unit": "C"}, "temperature"),
        ({"temperature": None, "unit": "C", "humidity": 58}, "temperature"),
        ({"temperature": 85, "unit": "C"}, "temperature"),  # what a broken thermometer sends, and the next
        ({"temperature": -127, "unit": "C"}, "temperature"),
        ({"temperature": 10**400, "unit": "C"}, "temperature"),
        (b'{"temperature": 1e999, "unit": "C"}', "temperature"),
        ({"humidity": 100.1}, "humidity"),
        ({"humidity": -1}, "humidity"),
        ({"humidity": [58]}, "humidity"),
        ({**FULL, "room": "Attic"}, "room"),
        ({**FULL, "room": 1}, "room"),
        ({**FULL, "room": "\ud800\x00"}, "room"),
        ({**FULL, "at": "2026-02-02T08:06:00Z"}, "at"),
        ({**FULL, "at": "2026-02-02T07:30:00"}, "at"),
        ({**FULL, "at": "2026-01-26T07:59:00Z"}, "at"),
        ({**FULL, "at": "0001-01-01T00:00:00+14:00"}, "at"),
        ({**FULL, "at": "9999-12-31T23:59:59-14:00"}, "at"),
        ({**FULL, "at": 1770000000}, "at"),
        ({**FULL, "at": ""}, "at"),
        (b'{"humidity": 58, "humidity": 59}', "humidity"),
        (b'{"humidity": NaN}', None),
        ({**FULL, "location": "shop"}, None),
    ],
)
def test_what_is_wrong_is_refused_with_its_field(found: Any, field: str | None) -> None:
    with pytest.raises(SentError) as error:
        sent(found)
    assert (error.value.field, error.value.status) == (field, 422)
    assert str(error.value).endswith((".", "please."))


def test_a_sensor_of_one_room_speaks_for_no_other() -> None:
    with pytest.raises(SentError, match="stands in another room"):
        sent({**FULL, "room": "Loft"}, own=1)


@pytest.mark.parametrize(
    "body", [b"", b"[]", b"14.5", b"{", b"[" * 4000, b"\xff\xfe", b"1" * 4000, b'"' + b"\\ud800" * 9]
)
def test_what_is_no_object_is_no_json(body: bytes) -> None:
    with pytest.raises(SentError) as error:
        sent(body)
    assert error.value.status == 400
