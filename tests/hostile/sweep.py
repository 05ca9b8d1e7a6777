"""The way through the app that the short and the full form share."""

from random import Random

from flask import Flask

from tests.hostile.attempts import well_meant
from tests.hostile.run import Run, forms_of, is_last
from tests.hostile.served import Form


def begin(run: Run) -> None:
    """Open the invented shop, as its button does: there is something of everything in it."""
    page = run.page("/welcome")
    form = next(form for form in page.forms if form.path == "/invented") if page else None
    assert form is not None, "there is no button for the invented shop"
    answer = run.send(well_meant(form, Random(0)))
    assert answer.status == 303, answer


def starts(app: Flask) -> list[str]:
    """Return the addresses that need no id: from them links lead on."""
    return ["/", *(rule.rule for rule in app.url_map.iter_rules() if not rule.arguments and "GET" in rule.methods)]


def forms_to_try(app: Flask, run: Run, alike: int = 2) -> list[Form]:
    """Return one form of each shape that the pages serve, but for those that end what the rest is tried on."""
    return [form for form in forms_of(run.walk(starts(app), alike)) if not is_last(form)]


def look_again(app: Flask, run: Run, alike: int = 6) -> Run:
    """Return what the pages say now that something of all that was sent stands in them."""
    again = Run(run.client)
    again.walk(starts(app), alike)
    return again
