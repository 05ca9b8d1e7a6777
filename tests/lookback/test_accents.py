"""Names in any script, looked for in any form."""

import unicodedata
from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from sqlalchemy.orm import Session

from tests.builds import typed
from webapp.builds.models import Build
from webapp.shops.models import Shop


@pytest.mark.parametrize("stored", ["NFC", "NFD"])
@pytest.mark.parametrize("asked", ["NFC", "NFD"])
@pytest.mark.parametrize("path", ["/builds", "/lookback"])
def test_search_finds_both_forms(
    owner: FlaskClient, db: Session, shop: Shop, stored: str, asked: str, path: str
) -> None:
    """SA16: é as one sign and as e with an accent; typed into the forms of the app, on both databases."""
    for name in ("Écritoire", "Buffet"):
        owner.post("/builds", data=typed.build(name=unicodedata.normalize(stored, name)))
    db.rollback()
    if path == "/lookback":
        for build in db.scalars(select(Build)):
            build.status, build.delivered_on = "delivered", date(2026, 2, 2)
        db.commit()
    for words in ("écritoire", "ÉCRI"):
        page = owner.get(path, query_string={"q": unicodedata.normalize(asked, words)}).text
        assert "Écritoire" in page
        assert "Buffet" not in page


@pytest.mark.parametrize("name", ["مريم نجار", "😆", "Ώδης & <b>"])
def test_a_client_of_any_script_is_shown_isolated(owner: FlaskClient, db: Session, shop: Shop, name: str) -> None:
    """SA16: escaped, and its direction kept from what stands beside it."""
    owner.post("/builds", data=typed.build(client=name))
    shown = name.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    assert f"<bdi>{shown}</bdi>" in owner.get("/builds").text
