"""Addresses for templates, by patterns that are laid once: a long page asks for two hundred of them.

What a pattern does not cover (a query, an anchor, a text with signs) is left to Flask, which gives the same addresses.
"""

import re
from typing import Any

from flask import Flask, current_app, request, url_for

PLAIN = re.compile(r"[\w.-]+", re.ASCII)
FIRST = 1_000_000_001  # samples that stand in no address of ours

Kinds = tuple[tuple[str, type], ...]


def init_app(app: Flask) -> None:
    app.extensions["addresses"] = {}
    app.jinja_env.globals["url_for"] = address


def address(endpoint: str, **values: Any) -> str:
    """Return the address that `url_for` returns."""
    if not all(type(value) is int or (type(value) is str and PLAIN.fullmatch(value)) for value in values.values()):
        return url_for(endpoint, **values)
    patterns = current_app.extensions["addresses"]
    key = (request.root_path, endpoint, tuple((name, type(value)) for name, value in values.items()))
    pattern = patterns[key] if key in patterns else patterns.setdefault(key, _pattern(endpoint, key[2]))
    return url_for(endpoint, **values) if pattern is None else str(pattern.format(**values))


def _pattern(endpoint: str, kinds: Kinds) -> str | None:
    """Return the address with {name} where values stand; none where one does not stand in the path by itself."""
    samples: dict[str, Any] = {
        name: FIRST + place if kind is int else f"x{FIRST + place}" for place, (name, kind) in enumerate(kinds)
    }
    try:
        built = url_for(endpoint, **samples)
    except ValueError:  # not any text will do there
        return None
    if endpoint.startswith(".") or any(sign in built for sign in "?#{}"):
        return None
    for name, sample in samples.items():
        before, found, after = built.partition(str(sample))
        built = f"{before}{{{name}}}{after}"
        if not found:
            return None
    return built
