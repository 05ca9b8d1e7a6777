"""A form that could not be taken loses nothing: the page that says so carries all that was typed.

Whoever has to sign in first brings it along: `carry` packs it into one field of the sign-in form, so that its names
cannot clash with that form's own, and `carried_on` unpacks it on the page that has one button left to tap.
"""

import json

from flask import make_response, render_template, request
from flask.typing import ResponseReturnValue

from webapp.web.local_path import local_path
from webapp.web.text import tidy

OWN = frozenset({"csrf_token", "resend_to", "carried"})
BUTTON = "Save it now"
Typed = list[tuple[str, str]]


def is_secret(name: str) -> bool:
    """Return whether a field is one that no page may show again: it is asked for once more."""
    return "password" in name


def _typed() -> Typed:
    return [(name, value) for name, value in request.form.items(multi=True) if name not in OWN and not is_secret(name)]


def _secrets() -> list[str]:
    return [name for name in request.form if is_secret(name)]


def _target() -> str:
    return request.full_path.rstrip("?")


def _had_files() -> bool:
    return any(file.filename for file in request.files.values())


def again(
    why: str, status: int = 400, *, also: tuple[str, str] | None = None, button: str = BUTTON
) -> ResponseReturnValue:
    """Answer with what was typed and one button that sends it once more, with what the button says in a field more."""
    page = render_template(
        "errors/resend.html",
        why=why,
        target=_target(),
        typed=_typed(),
        secrets=_secrets(),
        had_files=_had_files(),
        also=also,
        button=button,
    )
    return make_response(page, status)


def sign_in_first() -> ResponseReturnValue:
    """Answer a form from somebody whose sign-in has run out: sign in, then send what was typed."""
    page = render_template(
        "people/sign_in_resend.html",
        target=_target(),
        carried=carry(_typed(), had_files=_had_files()),
        typed=_typed(),
        had_files=_had_files(),
    )
    return make_response(page, 401)


def carry(typed: Typed, *, had_files: bool = False) -> str:
    """Return what was typed as one text."""
    return json.dumps({"typed": typed, "had_files": had_files})


def unpack(carried: str | None) -> tuple[Typed, bool]:
    """Return what was carried and whether files were lost on the way; nothing when it cannot be read."""
    try:
        found = json.loads(carried or "{}")
        return [(tidy(str(name)), tidy(str(value))) for name, value in found["typed"]], bool(found["had_files"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return [], False


def carried_on(target: str, carried: str) -> ResponseReturnValue:
    """Answer somebody who has just signed in with what they had typed before, one tap from saved."""
    typed, had_files = unpack(carried)
    return render_template(
        "errors/resend.html",
        why="You are signed in again.",
        target=local_path(target),
        typed=typed,
        secrets=[],
        had_files=had_files,
        also=None,
        button=BUTTON,
    )
