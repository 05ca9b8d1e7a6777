"""Every route and method as each of four: nobody, a stranger with a shop of their own, a helper, an owner.

What belongs to another shop does not exist (404, test_addresses.py); what a role may not do is 403.
"""

import pytest
from flask import Flask

from tests.access_table import ACCESS
from tests.rights.conftest import Begin
from tests.rights.sweep import routes
from webapp.db.session import SAFE
from webapp.web.guard import HELPER, OWNER, PUBLIC, SIGNED_IN, TOKEN, access_of

LEADS_ON = {"people.welcome", "people.sign_in"}  # for whoever is in already
NOT_THERE = {"invented.delete"}  # no other shop can be removed so
NOT_TAKEN = {"backups.create"}  # a backup holds every shop, and nobody here owns them all


ONE_DATABASE = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # it is asked before any row of a shop

# puts up a whole shop for whoever is signed in, which takes longer than all the rest: tests/invented has its own
LEFT_OUT = {"invented.create"}


def test_every_route_has_a_row_and_every_row_a_route(app: Flask) -> None:
    found = {rule.endpoint for rule in app.url_map.iter_rules()}
    assert found - set(ACCESS) == set(), "these routes have no row"
    assert set(ACCESS) - found == set(), "these rows have no route"
    with app.app_context():
        assert {name: access_of(name) for name in found} == ACCESS
    assert set(ACCESS.values()) == {PUBLIC, SIGNED_IN, HELPER, OWNER, TOKEN}


@ONE_DATABASE
def test_nobody_is_asked_to_sign_in(sweeping: Begin) -> None:
    sweep = sweeping("")
    for route in routes(sweep.app, sweep.ours):
        answer = sweep.ask(route.method, route.address())
        if ACCESS[route.endpoint] == PUBLIC:
            right = answer.status < 500
        elif route.method in SAFE:
            right = answer.status == 303 and "/sign-in" in answer.response.location
        else:
            right = answer.status == 401
        if not right or answer.wrote:
            sweep.note(answer, "is open to everybody")
    sweep.report("routes")


@ONE_DATABASE
def test_a_helper_may_not_do_what_is_the_owners(sweeping: Begin) -> None:
    sweep = sweeping("helper")
    for route in routes(sweep.app, sweep.ours):
        if route.endpoint in LEFT_OUT:
            continue
        answer = sweep.ask(route.method, route.address())
        if (answer.status == 403) != (ACCESS[route.endpoint] == OWNER):
            sweep.note(answer, "is not as the table says")
        if answer.status == 403 and answer.wrote:
            sweep.note(answer, "was done all the same")
    sweep.report("routes")


def test_an_owner_is_led_somewhere_by_every_route(sweeping: Begin) -> None:
    """The counter-proof of all that is refused. Each verb is sent with nothing but its token: a message or a way on."""
    sweep = sweeping("owner")
    sweep.app.config["WTF_CSRF_ENABLED"] = True
    smuggled = {"X-HTTP-Method-Override": "POST", "X-HTTP-Method": "DELETE", "X-Method-Override": "PUT"}
    for route in routes(sweep.app, sweep.ours):
        if route.endpoint in LEFT_OUT:
            continue
        if route.method in SAFE:
            answer = sweep.ask(route.method, route.address({"_method": "POST"}), headers=smuggled)
            right = answer.status == (303 if route.endpoint in LEADS_ON else 200)
        else:
            answer = sweep.ask(
                route.method, route.address(), {"csrf_token": sweep.token}, {"Origin": "http://localhost"}
            )
            right = answer.status != 403 or route.endpoint in NOT_TAKEN
            right = right and (answer.status == 401) == (ACCESS[route.endpoint] == TOKEN)
        if (
            not right
            or (answer.status == 404) != (route.endpoint in NOT_THERE)
            or "This page had been open" in answer.text
        ):
            sweep.note(answer, "is not there")
    sweep.report("routes, and no other method smuggled in")


@ONE_DATABASE
def test_no_path_leads_out_of_the_folder_of_static_files(sweeping: Begin) -> None:
    sweep = sweeping("")
    for path in (
        "../webapp/settings.py", "%2e%2e/webapp/settings.py", "..%2fwebapp%2fsettings.py", "/etc/passwd", "%00", "js",
        "js/../../pyproject.toml", "..\\pyproject.toml", "js/%2e%2e/%2e%2e/pyproject.toml",
    ):  # fmt: skip
        answer = sweep.ask("GET", f"/static/any/{path}")
        if answer.status not in (404, 308):
            sweep.note(answer, "leads out of the folder")
    sweep.report("static files")
