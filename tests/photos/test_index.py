"""The newest photos, in pages: of the shop, of a build, of an operation."""

from datetime import timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.photos import sending
from webapp.shops.models import Shop


def test_without_photos_the_page_says_what_comes_here(owner: FlaskClient) -> None:
    page = owner.get("/photos")
    assert page.status_code == 200
    assert "No photos here yet." in page.text
    assert "To the builds" in page.text


@pytest.mark.parametrize("who", ["owner", "helper"])
def test_newest_first_in_pages(who: str, request: pytest.FixtureRequest, db: Session, shop: Shop) -> None:
    client = request.getfixturevalue(who)
    build = factories.build(db, shop)
    rows = [sending.photo(db, build, START - timedelta(hours=n), caption=f"number-{n:03}") for n in range(50)]
    first, second = client.get("/photos").text, client.get("/photos?page=2").text
    assert first.count("<figure>") == 48
    assert first.index("number-000") < first.index("number-047")
    assert second.count("<figure>") == 2
    assert "number-049" in second
    assert 'width="320" height="240"' in first
    assert 'loading="lazy"' in first
    assert f"/photos/{rows[0].id}/small.webp?v={rows[0].mark}" in first


def test_of_one_build_or_one_operation(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    mill = factories.operation(db, build)
    sending.photo(db, build, START, caption="on the build")
    sending.photo(db, mill, START, caption="on the milling")
    sending.photo(db, factories.build(db, shop, "Stool"), START, caption="elsewhere")
    of_build = owner.get(f"/photos?build={build.id}").text
    assert "on the build" in of_build
    assert "on the milling" in of_build
    assert "elsewhere" not in of_build
    of_operation = owner.get(f"/photos?operation={mill.id}").text
    assert "on the milling" in of_operation
    assert "on the build" not in of_operation
    assert f"/operations/{mill.id}/photos/new" in of_operation


def test_a_stranger_sees_only_his_own(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    sending.photo(db, build, START, caption="secret joint")
    assert "secret joint" not in stranger.get("/photos").text
    assert stranger.get(f"/photos?build={build.id}").status_code == 404
