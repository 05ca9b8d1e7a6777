"""Work beside the requests knows when none is being answered."""

import pytest
from flask import Flask, abort

from webapp.web import answering


@pytest.fixture
def small() -> Flask:
    app = Flask("small")
    answering.init_app(app)
    app.add_url_rule("/", view_func=lambda: str(answering.wait_for_quiet(0)), endpoint="here")
    app.add_url_rule("/refused", view_func=lambda: abort(403), endpoint="refused")
    app.add_url_rule("/broken", view_func=lambda: str(1 // 0), endpoint="broken")
    return app


def test_it_is_quiet_but_while_a_request_is_answered(small: Flask) -> None:
    client = small.test_client()
    assert answering.wait_for_quiet(0)
    assert client.get("/").text == "False"
    assert answering.wait_for_quiet(0)


def test_however_a_request_ends_it_is_quiet_again(small: Flask) -> None:
    small.config["TRUSTED_HOSTS"] = ["localhost"]
    client = small.test_client()
    assert client.get("/refused").status_code == 403
    assert client.get("/nowhere").status_code == 404
    assert client.get("/", headers={"Host": "elsewhere"}).status_code == 400
    assert client.get("/broken").status_code == 500
    assert answering.wait_for_quiet(0)
    assert client.get("/").text == "False"
