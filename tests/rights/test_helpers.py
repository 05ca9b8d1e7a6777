"""What a helper sees: no money, and no way to what only an owner may do."""

import pytest

from tests.access_table import ACCESS
from tests.rights.conftest import Begin
from tests.rights.marks import OURS, RATE
from tests.rights.offers import endpoint_of
from tests.rights.pages import Page
from tests.rights.sweep import MONEY, Answer, Sweep, routes
from webapp.web.guard import OWNER, PUBLIC

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database


def test_a_helper_sees_no_money_and_no_way_to_it(sweeping: Begin) -> None:
    shown = {MONEY[OURS], f"{RATE // 100}.{RATE % 100:02}"}
    sweep, seen = sweeping("owner"), set()
    for route in routes(sweep.app, sweep.ours):
        if route.endpoint in ("costs.show", "shops.makers.edit"):
            said = sweep.ask("GET", route.address({"key": sweep.ours.values["shops.rates"]})).text
            seen |= {figure for figure in shown if figure in said}
    assert seen == shown
    sweep = sweeping("helper")
    for route in routes(sweep.app, sweep.ours):
        if route.method == "GET" and ACCESS[route.endpoint] not in (OWNER, PUBLIC):
            answer = sweep.ask("GET", route.address())
            if any(figure in answer.text for figure in shown):
                sweep.note(answer, "shows a helper money")
            _check_ways(sweep, answer, route.address())
    sweep.report("money, and ways to what is the owner's")


def _check_ways(sweep: Sweep, answer: Answer, address: str) -> None:
    if answer.response.mimetype != "text/html":
        return
    page = Page(address, answer.response.text)
    ways = [(link, "GET") for link in page.links] + [(form.action, form.method.upper()) for form in page.forms]
    for way, method in ways:
        sweep.counted["ways"] += 1
        if ACCESS.get(endpoint_of(sweep.app, way, method)) == OWNER:
            sweep.note(answer, f"offers a helper {method} {way}")
