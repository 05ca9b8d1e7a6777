"""The list of past builds, and what is found in them."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine, event
from sqlalchemy.orm import Session

from tests import factories
from tests.lookback.conftest import delivered
from webapp.builds.models import Build
from webapp.journal.models import Entry
from webapp.shops.models import Shop


def text(client: FlaskClient, url: str = "/lookback") -> str:
    answer = client.get(url)
    assert answer.status_code == 200
    return " ".join(answer.text.split())


def test_without_a_delivery_the_page_says_what_it_will_show(owner: FlaskClient) -> None:
    assert "Nothing delivered yet" in text(owner)


def test_a_past_build_stands_with_days_hours_cost_price_and_earnings(owner: FlaskClient, past: Build) -> None:
    """3 h at 40.00 and 100.00 of wood are 220.00; (400 - 100) / 3 h is 100.00 an hour."""
    page = text(owner)
    for figure in ("Ash tray", "<dd>1</dd>", "3:00 h", "× 1.50", "$220.00", "$400.00", "$100.00"):
        assert figure in page


def test_a_helper_sees_hours_but_no_money(helper: FlaskClient, past: Build) -> None:
    page = text(helper)
    assert "3:00 h" in page
    assert "$" not in page


def test_a_stranger_sees_nothing_of_it(stranger: FlaskClient, past: Build) -> None:
    assert "Ash tray" not in text(stranger)


def test_what_is_in_the_making_is_not_past(owner: FlaskClient, db: Session, shop: Shop) -> None:
    factories.build(db, shop, "Desk")
    assert "Desk" not in text(owner)


@pytest.mark.parametrize("q", ["ASH", "tray", "Tray "])
def test_search_over_names(owner: FlaskClient, past: Build, db: Session, shop: Shop, q: str) -> None:
    """SA21: alike on both databases."""
    delivered(db, shop, "Chair", minutes=60, hours=1)
    page = text(owner, f"/lookback?q={q}")
    assert "Ash tray" in page
    assert ("Chair" in page) == (q == "ASH")  # both are of ash


def test_search_over_notes(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = delivered(db, shop, "Chair", minutes=60, hours=1, note="Fumed with Ébène dye")
    db.query(Entry).filter_by(kind="noted", build_id=build.id).one().folded = "fumed with ebene dye"
    db.commit()
    page = text(owner, "/lookback?q=ÉBÈNE")
    assert "Chair" in page
    assert "Fumed with Ébène dye" in page


def test_search_over_reasons(owner: FlaskClient, past: Build, db: Session) -> None:
    line = db.query(Entry).filter_by(kind="done").one()
    line.kind, line.data, line.folded = "abandoned", {"reason": "Cracked"}, "cracked"
    db.commit()
    assert "Cracked" in text(owner, "/lookback?q=cracked")


def test_nothing_found_is_said(owner: FlaskClient, past: Build) -> None:
    assert "No past build with “teak”" in text(owner, "/lookback?q=teak")


def test_odd_searches_do_no_harm(owner: FlaskClient, past: Build) -> None:
    for q in ("%00", "%25", "_", "'", "x" * 5000, "%E2%80%AEabc"):
        assert owner.get(f"/lookback?q={q}").status_code == 200


def test_queries_do_not_grow_with_builds(
    owner: FlaskClient, past: Build, db: Session, shop: Shop, engine: Engine
) -> None:
    """SA20"""
    seen: list[str] = []
    event.listen(engine, "before_cursor_execute", lambda *args: seen.append(args[2]))
    owner.get("/lookback")
    few = len(seen)
    for number in range(8):
        delivered(db, shop, f"Piece {number}", minutes=60, hours=1)
    seen.clear()
    owner.get("/lookback")
    assert len(seen) == few
