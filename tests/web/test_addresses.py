"""Addresses by pattern are those that Flask gives."""

from typing import Any

import pytest
from flask import Flask, url_for

from webapp.web.addresses import address

TEXTS = {"size": "small", "entry_id": "ab-1", "kind": "slot"}
FLAWS = (1, "a-b.c", "a b", "a/b", "é", "", None, "{0}")


def values_of(names: set[str]) -> dict[str, Any]:
    return {name: TEXTS.get(name, 7) for name in sorted(names)}


def test_every_route_has_the_same_address(app: Flask) -> None:
    with app.test_request_context():
        rules = [rule for rule in app.url_map.iter_rules() if rule.endpoint != "static"]
        assert rules
        for rule in rules:
            values = values_of(rule.arguments)
            for _ in range(2):  # a pattern is laid, then used
                for more in ({}, {"next": "/builds/3"}, {"page": 2}, {"_anchor": "photos"}):
                    assert address(rule.endpoint, **values, **more) == url_for(rule.endpoint, **values, **more)


@pytest.mark.parametrize("value", FLAWS)
def test_so_has_any_value(app: Flask, value: Any) -> None:
    with app.test_request_context():
        for _ in range(2):
            assert address("builds.index", q=value) == url_for("builds.index", q=value)
            if value not in ("", None, "a/b"):
                assert address("journal.line.edit", entry_id=value) == url_for("journal.line.edit", entry_id=value)


def test_behind_a_proxy_they_keep_its_path(app: Flask) -> None:
    for root in ("", "/shop"):
        with app.test_request_context(environ_overrides={"SCRIPT_NAME": root}):
            assert address("builds.show", build_id=3) == f"{root}/builds/3"
