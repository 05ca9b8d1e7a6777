"""Day or evening light, for one device."""

import pytest
from flask.testing import FlaskClient

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)  # nothing here depends on the database


def test_the_theme_is_kept_in_a_cookie_and_shown(owner: FlaskClient) -> None:
    answer = owner.post("/theme", data={"theme": "evening", "next": "/shop"})
    assert (answer.status_code, answer.location) == (303, "/shop")
    assert 'data-theme="evening"' in owner.get("/shop").text
    owner.post("/theme", data={"theme": ""})
    assert "data-theme" not in owner.get("/shop").text


def test_another_theme_is_refused(nobody: FlaskClient) -> None:
    assert nobody.post("/theme", data={"theme": '"><script>'}).status_code == 400


@pytest.mark.parametrize("way", ["//evil.example", "/\\evil.example", "https://evil.example", ""])
def test_the_way_back_stays_on_this_server(nobody: FlaskClient, way: str) -> None:
    assert nobody.post("/theme", data={"theme": "day", "next": way}).location == "/"
