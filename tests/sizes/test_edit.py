from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from tests.sizes.test_index import a_size, measure, stored
from webapp.shops.models import Shop


def test_a_size_is_changed(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(helper, build)
    address = f"/sizes/{stored(db)[0].id}/edit"
    answer = helper.post(address, data={**typed.version(helper, address), "target": "36 1/2", "tolerance": "1/32"})
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}/sizes")
    found = stored(db)[0]
    assert (found.target_typed, found.tolerance_typed, found.key) == ("36 1/2 in", "1/32 in", "top-width")


def test_bad_input_comes_back_as_typed(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(helper, build)
    address = f"/sizes/{stored(db)[0].id}/edit"
    answer = helper.post(address, data={**typed.version(helper, address), "target": "1/4-20"})
    assert answer.status_code == 422
    assert 'value="1/4-20"' in answer.text
    assert stored(db)[0].target_typed == "36 in"


def test_two_who_change_one_size_lose_nothing(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: the second is told and sees both."""
    a_size(owner, factories.build(db, shop))
    address = f"/sizes/{stored(db)[0].id}/edit"
    first, second = typed.version(owner, address), typed.version(helper, address)
    owner.post(address, data={**first, "target": "35"})
    late = helper.post(address, data={**second, "target": "900 mm"})
    assert late.status_code == 409
    assert "It should be 35 in 900 mm" in typed.text(late)
    assert stored(db)[0].target_typed == "35 in"


def test_an_opening_that_goes_takes_its_fit_along(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(owner, build, name="Mortise", target="3/8")
    a_size(owner, build, name="Tenon", target="3/8", goes_into="mortise", fit="tenon in mortise")
    assert owner.post(f"/sizes/{stored(db)[0].id}/delete").location == f"/builds/{build.id}/sizes"
    left = stored(db)
    assert [(one.name, one.goes_into, one.fit) for one in left] == [("Tenon", "", "")]


def test_what_was_measured_stays(owner: FlaskClient, db: Session, shop: Shop) -> None:
    a_size(owner, factories.build(db, shop))
    size = stored(db)[0]
    measure(owner, size, "36", "m-1")
    answer = owner.post(f"/sizes/{size.id}/delete")
    assert answer.status_code == 409
    assert "it stays on the sheet" in answer.text
    assert stored(db)


def test_the_piece_made_again_has_its_sizes_and_not_what_they_measured(
    owner: FlaskClient, db: Session, shop: Shop
) -> None:
    build = factories.build(db, shop)
    a_size(owner, build, name="Mortise", target="3/8")
    a_size(owner, build, name="Tenon", target="3/8", goes_into="mortise", fit="tenon in mortise")
    measure(owner, stored(db)[0], "3/8", "m-1")
    answer = owner.post(f"/builds/{build.id}/again")
    new = int(answer.location.split("/")[2])
    assert new != build.id
    page = typed.text(owner.get(f"/builds/{new}/sizes"))
    assert "Goes into Mortise , tenon in mortise: snug, no play as they should be" in page
    assert page.count("not measured") == 2


def test_a_piece_with_sizes_can_still_be_deleted(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(owner, build)
    assert owner.post(f"/builds/{build.id}/delete", data={"name": build.name}).status_code == 303
    assert not stored(db)
