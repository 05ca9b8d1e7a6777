"""A line of a bill put right."""

from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.stock.typed import line, material
from webapp.shops.models import Shop


def test_the_form_shows_what_is_kept(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop, thickness_typed="8/4", width_typed="160 mm", length_typed="8'", pieces=2)
    page = owner.get(f"/stock/{found.id}/edit").text
    for value in ("White oak 8/4", "12", "7.25", "2026-02-03", "8/4", "160 mm", "8&#39;"):
        assert f'value="{value}"' in page
    assert "by its sizes" in page.lower()


def test_a_change_counts_the_sum_again(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    build = factories.build(db, shop)
    data = line(version="1", quantity="10", build=str(build.id))
    assert owner.post(f"/stock/{found.id}/edit", data=data).status_code == 303
    db.rollback()
    assert (found.total_minor, found.build_id, found.version) == (7250, build.id, 2)


def test_a_line_of_a_closed_build_stays_with_it(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, status="closed")
    found = material(db, shop, build_id=build.id)
    owner.post(f"/stock/{found.id}/edit", data=line(version="1", build=str(build.id)))
    db.rollback()
    assert found.build_id == build.id


def test_the_second_of_two_editors_sees_both(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: told, both shown, nothing typed lost; sending again is a decision."""
    found = material(db, shop)
    owner.post(f"/stock/{found.id}/edit", data=line(version="1", quantity="10"))
    answer = owner.post(f"/stock/{found.id}/edit", data=line(version="1", quantity="11", note="mine"))
    assert answer.status_code == 409
    assert "<td>10</td><td>11</td>" in answer.text
    assert "mine" in answer.text
    assert owner.post(f"/stock/{found.id}/edit", data=line(version="2", quantity="11")).status_code == 303
    db.rollback()
    assert found.quantity == 11


def test_bad_input_keeps_what_was_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    answer = owner.post(f"/stock/{found.id}/edit", data=line(version="1", quantity="a few"))
    assert answer.status_code == 422
    assert 'value="a few"' in answer.text
    db.rollback()
    assert found.quantity == 12


def test_a_helper_may_put_a_line_right(helper: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    assert helper.post(f"/stock/{found.id}/edit", data=line(version="1", quantity="10")).status_code == 303


def test_a_stranger_finds_no_such_line(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    found = material(db, shop)
    assert stranger.get(f"/stock/{found.id}/edit").status_code == 404
    assert stranger.post(f"/stock/{found.id}/edit", data=line(version="1")).status_code == 404
