import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Operation
from webapp.shops.models import Shop


def a_build(db: Session, shop: Shop) -> dict[str, Operation]:
    """Two groups: top with a, b, c and base with d, e."""
    build = factories.build(db, shop)
    return {key: factories.operation(db, build, key, group="top" if key in "abc" else "base") for key in "abcde"}


def order(db: Session) -> str:
    return "".join(one.key for one in typed.stored(db, Build)[0].operations)


@pytest.mark.parametrize(
    ("key", "direction", "becomes"),
    [
        ("b", "up", "bacde"),
        ("b", "down", "acbde"),
        ("a", "up", "abcde"),
        ("c", "down", "abcde"),
        ("d", "up", "abcde"),
        ("e", "group-up", "deabc"),
        ("a", "group-down", "deabc"),
        ("a", "group-up", "abcde"),
    ],
)
def test_a_button_moves_one_step(
    helper: FlaskClient, db: Session, shop: Shop, key: str, direction: str, becomes: str
) -> None:
    rows = a_build(db, shop)
    answer = helper.post(f"/operations/{rows[key].id}/place", data={"direction": direction})
    location = f"/builds/{rows[key].build_id}/order#operation-{rows[key].id}"
    assert (answer.status_code, answer.location) == (303, location)
    assert order(db) == becomes


@pytest.mark.parametrize(
    ("key", "before", "becomes"), [("c", "a", "cabde"), ("a", "c", "bacde"), ("a", None, "bcade"), ("a", "e", "bcade")]
)
def test_a_drop_puts_one_before_another_of_its_group(
    owner: FlaskClient, db: Session, shop: Shop, key: str, before: str | None, becomes: str
) -> None:
    rows = a_build(db, shop)
    sent = {"before": str(rows[before].id) if before else ""}
    assert owner.post(f"/operations/{rows[key].id}/place", data=sent).status_code == 303
    assert order(db) == becomes


def test_moving_outdates_nobodys_edit(owner: FlaskClient, db: Session, shop: Shop) -> None:
    rows = a_build(db, shop)
    address = f"/operations/{rows['a'].id}/edit"
    form = typed.version(owner, address)
    owner.post(f"/operations/{rows['a'].id}/place", data={"direction": "down"})
    assert owner.post(address, data={**form, "minutes": "5"}).status_code == 303
    assert order(db) == "bacde"


def test_the_page_has_buttons_that_need_no_script(helper: FlaskClient, db: Session, shop: Shop) -> None:
    rows = a_build(db, shop)
    page = helper.get(f"/builds/{rows['a'].build_id}/order").text
    assert 'aria-label="Up: A"' in page
    assert 'aria-label="Group up: base"' in page
    assert f'action="/operations/{rows["e"].id}/place"' in page
    empty = factories.build(db, shop, "Chest")
    assert "No operations yet" in helper.get(f"/builds/{empty.id}/order").text


def test_nonsense_is_refused(owner: FlaskClient, stranger: FlaskClient, db: Session, shop: Shop) -> None:
    rows = a_build(db, shop)
    assert owner.post(f"/operations/{rows['a'].id}/place", data={"direction": "sideways"}).status_code == 400
    assert owner.post(f"/operations/{rows['a'].id}/place").status_code == 400
    assert stranger.post(f"/operations/{rows['a'].id}/place", data={"direction": "down"}).status_code == 404
    assert stranger.get(f"/builds/{rows['a'].build_id}/order").status_code == 404
    assert order(db) == "abcde"
