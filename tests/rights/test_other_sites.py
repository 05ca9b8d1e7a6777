"""Forms sent from elsewhere, or without their token: refused on every route, with nothing stored and nothing lost."""

import pytest

from tests.access_table import ACCESS
from tests.rights.conftest import Begin
from tests.rights.sweep import Sweep, routes
from webapp.db.session import SAFE
from webapp.web.guard import TOKEN

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database
ELSEWHERE = (
    {"Origin": "https://evil.example"},
    {"Origin": "null"},
    {"Origin": "http://localhost.evil.example"},
    {"Referer": "https://evil.example/http://localhost/"},
    {"Sec-Fetch-Site": "cross-site"},
    {"Sec-Fetch-Site": "same-site"},
)


@pytest.mark.parametrize("role", ["owner", ""])
def test_every_form_sent_from_another_site_gets_403(sweeping: Begin, role: str) -> None:
    """With a good token: whoever got hold of one must not be able to use it from elsewhere."""
    sweep = sweeping(role)
    sweep.app.config["WTF_CSRF_ENABLED"] = True
    for address, method in unsafe(sweep):
        for headers in ELSEWHERE:
            sweep.counted["posts from elsewhere"] += 1
            answer = sweep.ask(method, address, {"csrf_token": sweep.token}, headers)
            if answer.status != 403 or answer.wrote:
                sweep.note(answer, f"was taken from {headers}")
    sweep.report("other sites")


def test_every_form_without_its_token_asks_again(sweeping: Begin) -> None:
    """SA10: the page that says so carries what was typed. Which tokens are none is tried in tests/web/test_csrf.py."""
    sweep = sweeping("owner")
    sweep.app.config["WTF_CSRF_ENABLED"] = True
    for address, method in unsafe(sweep, but=TOKEN):
        sweep.counted["posts without a token"] += 1
        answer = sweep.ask(method, address, {"note": "kept 5/8"}, {"Origin": "http://localhost"})
        if answer.wrote or (answer.status, "kept 5/8" in answer.text) != (400, True):
            sweep.note(answer, "was taken without its token")
    sweep.report("tokens")


def unsafe(sweep: Sweep, but: str = "") -> list[tuple[str, str]]:
    found = [route for route in routes(sweep.app, sweep.ours) if route.method not in SAFE]
    return [(route.address(), route.method) for route in found if ACCESS[route.endpoint] != but]
