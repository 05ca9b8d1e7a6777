"""The token of a sensor: it writes readings into its own shop, and opens nothing else."""

import json
from typing import Any

from tests.access_table import ACCESS
from tests.rights.conftest import Begin
from tests.rights.sensors import sensor_token
from tests.rights.sweep import Answer, Sweep, routes
from tests.rights.world import Place
from webapp.db.session import SAFE
from webapp.web.guard import PUBLIC, TOKEN

READING = {"temperature": 14.5, "unit": "C", "humidity": 58}


def test_no_other_route_knows_a_token(sweeping: Begin) -> None:
    """Whoever holds one and nothing else is answered as nobody is."""
    sweep = sweeping("")
    for route in routes(sweep.app, sweep.ours):
        if ACCESS[route.endpoint] in (PUBLIC, TOKEN):
            continue
        answer = sweep.ask(
            route.method, route.address(), headers=_bearer(sensor_token(sweep.ours.values["shops.sensors"]))
        )
        if answer.status != (303 if route.method in SAFE else 401) or answer.wrote:
            sweep.note(answer, "is opened by a sensor's token")
    sweep.report("a sensor's token on every route")


def test_a_token_writes_into_its_own_shop_only(sweeping: Begin) -> None:
    sweep = sweeping("")
    ours, theirs = sweep.ours, sweep.theirs
    sweep.keeps_ours = True
    taken = _send(sweep, ours, {**READING, "room": ours.values["room_name"]})
    assert taken.status == 201
    assert ours.values["room_name"] in taken.text
    assert len(taken.ours["reading"]) == 2
    refused = _send(sweep, ours, {**READING, "room": theirs.values["room_name"]})
    nowhere = _send(sweep, ours, {**READING, "room": "Quillmarsh room"})
    assert (refused.status, refused.wrote, refused.text) == (422, False, nowhere.text)
    sweep.report("our token")


def test_half_a_token_is_none(sweeping: Begin) -> None:
    """Their sensor's number with our secret, and the other way round."""
    sweep = sweeping("owner")
    ours, theirs = (place.values["shops.sensors"] for place in (sweep.ours, sweep.theirs))
    mine, wrong = sensor_token(ours), f"{theirs}-{sensor_token(ours).partition('-')[2]}x"
    for token in (wrong, mine[:-1], f"{mine} ", f" {mine}x", f"{mine},{mine}"):
        answer = sweep.ask("POST", "/api/readings", json.dumps(READING).encode(), _bearer(token))
        if answer.status not in (401, 201 if token.strip() == mine else 401):
            sweep.note(answer, f"took {token!r}")
    sweep.report("half a token")


def _send(sweep: Sweep, place: Place, found: dict[str, Any]) -> Answer:
    return sweep.ask(
        "POST", "/api/readings", json.dumps(found).encode(), _bearer(sensor_token(place.values["shops.sensors"]))
    )


def _bearer(token: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
