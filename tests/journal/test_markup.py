"""Words with markup in them stay words on every page that shows them."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.journal.steps import tap
from webapp.shops.models import Shop

EVIL = '<img src=x onerror="alert(1)"><svg/onload=alert(1)>'


@pytest.mark.parametrize(
    "page", ["/", "/journal", "/builds", "/builds/{b}", "/operations/{o}/edit", "/days", "/lookback"]
)
def test_a_note_or_a_name_runs_nothing(owner: FlaskClient, db: Session, shop: Shop, page: str) -> None:
    """SA18: a note with <img onerror>, and the names of build, client, wood, operation and group alike."""
    status = "delivered" if page == "/lookback" else "in the making"
    build = factories.build(db, shop, f"Desk {EVIL}", client=EVIL, wood=EVIL, note=EVIL, status=status)
    operation = factories.operation(db, build, "mill", name=f"Mill {EVIL}", group=EVIL, note=EVIL)
    for path in (f"/operations/{operation.id}/note", f"/builds/{build.id}/note"):
        assert tap(owner, path, note=EVIL).status_code == 303
    tap(owner, f"/operations/{operation.id}/start")
    answer = owner.get(page.format(b=build.id, o=operation.id))
    assert answer.status_code == 200
    assert "&lt;img src=x onerror=" in answer.text
    assert "<img src=x" not in answer.text
    assert "<svg/onload" not in answer.text
