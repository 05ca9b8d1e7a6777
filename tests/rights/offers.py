"""All that the pages of somebody who is signed in offer: every page there is a way to, every form on them."""

import re
from collections import defaultdict
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from flask import Flask
from werkzeug.exceptions import HTTPException
from werkzeug.routing import RequestRedirect

from tests.rights.marks import ID
from tests.rights.pages import Form, Page, with_query
from tests.rights.sweep import Sweep, routes

NOT_SENT = {"/invented": "puts up a whole shop, which takes longer than all the rest; it reads a time zone, no id"}
OF_A_KIND = 3  # so many pages whose addresses differ in their ids only: their rows stand in different states


@dataclass
class Offers:
    """The addresses that were asked for, and one of each form that posts: by where it goes and what it holds."""

    pages: list[str] = field(default_factory=list)
    forms: dict[tuple[str, tuple[str, ...]], Form] = field(default_factory=dict)


def pattern(text: str) -> str:
    """Return an address or a value with the kinds of ids in place of the ids."""
    return ID.sub(lambda found: found[0][:3] if found[0].isdigit() else "line", text)


def endpoint_of(app: Flask, address: str, method: str) -> str:
    try:
        return str(app.url_map.bind("localhost").match(urlsplit(address).path, method=method)[0])
    except RequestRedirect:
        return "redirect"
    except HTTPException:
        return "nothing"


KNOWN: list[Offers] = []


def offers_of(sweep: Sweep) -> Offers:
    """Return what the pages offer; the world is the same each time, on both databases, so it is walked through once."""
    if not KNOWN:
        KNOWN.append(walk(sweep))
    return KNOWN[0]


def walk(sweep: Sweep) -> Offers:
    """Ask for every page that routes and links lead to."""
    offers, seen = Offers(), defaultdict[str, set[str]](set)
    waiting = [route.address() for route in routes(sweep.app, sweep.ours) if route.method == "GET"]
    while waiting:
        address = waiting.pop(0)
        known = seen[re.sub(r"=[^&]*", "=", pattern(address))]
        if address in known or len(known) >= OF_A_KIND or address.startswith("/static/"):
            continue
        known.add(address)
        answer = sweep.ask("GET", address)
        offers.pages.append(address)
        sweep.counted["pages"] += 1
        if answer.response.mimetype == "text/html" and answer.status == 200:
            page = Page(address, answer.response.text)
            waiting += [*page.links, *with_query(page.forms)]
            _keep(offers, page.forms)
    return offers


def _keep(offers: Offers, forms: list[Form]) -> None:
    for form in forms:
        if form.method == "post" and form.action not in NOT_SENT:
            held = tuple(sorted(one.name for one in form.fields.values()))
            offers.forms.setdefault((pattern(form.action), held), form)
