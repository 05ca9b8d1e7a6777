"""Words looked for, in every room that looks for some."""

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from webapp.shops.models import Shop


@pytest.mark.parametrize("address", ["/builds?q=", "/journal?words=", "/lookback?q="])
@pytest.mark.parametrize("words", ["%00", "a" * 60_000, "%25", "_", "%ED%A0%80", "%E2%80%AE%D7%90"])
def test_odd_words_are_looked_for_all_the_same(
    owner: FlaskClient, db: Session, shop: Shop, address: str, words: str
) -> None:
    build = factories.build(db, shop, "Stool")
    factories.operation(db, build, "mill")
    owner.post(f"/builds/{build.id}/note", data={"note": "Tear-out."})
    assert owner.get(address + words).status_code == 200
