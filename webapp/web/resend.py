"""A form that could not be taken loses nothing: the page that says so carries all that was typed."""

from flask import make_response, render_template, request
from flask.typing import ResponseReturnValue

OWN = frozenset({"csrf_token", "resend_to"})


def _typed() -> list[tuple[str, str]]:
    return [(name, value) for name, value in request.form.items(multi=True) if name not in OWN]


def _target() -> str:
    return request.full_path.rstrip("?")


def again(why: str, status: int = 400) -> ResponseReturnValue:
    """Answer with what was typed and one button that sends it once more."""
    page = render_template(
        "errors/resend.html", why=why, target=_target(), typed=_typed(), had_files=bool(request.files)
    )
    return make_response(page, status)


def sign_in_first() -> ResponseReturnValue:
    """Answer a form from somebody whose sign-in has run out: sign in, then send what was typed."""
    page = render_template(
        "people/sign_in_resend.html", target=_target(), typed=_typed(), had_files=bool(request.files)
    )
    return make_response(page, 401)
