import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Size
from webapp.shops.models import Shop

INCH = 25_400_000


def stored(db: Session) -> list[Size]:
    db.rollback()
    return db.query(Size).order_by(Size.id).all()


def a_size(client: FlaskClient, build: Build, **said: str) -> None:
    answer = client.post(f"/builds/{build.id}/sizes", data={"name": "Top, width", "target": "36", **said})
    assert answer.status_code == 303, typed.text(answer)


def measure(client: FlaskClient, size: Size, actual: str, key: str) -> None:
    at = {"actual": actual, "id": key, "next": f"/builds/{size.build_id}/sizes"}
    answer = client.post(f"/sizes/{size.id}/measured", data=at)
    assert (answer.status_code, answer.location) == (303, f"/builds/{size.build_id}/sizes")


def test_a_size_is_kept_as_it_was_typed(helper: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: fractions stay fractions, quarters are a thickness as bought, millimetres stay millimetres."""
    build = factories.build(db, shop)
    a_size(helper, build, target="1-1/4", tolerance="1/64")
    a_size(helper, build, name="Stock", target="8/4")
    a_size(helper, build, name="Shelf", target="19mm", tolerance="0,2 mm", part="Shelf", note="after sanding")
    kept = [(one.target_typed, one.target_nm, one.tolerance_typed) for one in stored(db)]
    assert kept == [
        ("1-1/4 in", 5 * INCH // 4, "1/64 in"),
        ("8/4", 2 * INCH, ""),
        ("19mm", 19_000_000, "0,2 mm"),
    ]
    page = typed.text(helper.get(f"/builds/{build.id}/sizes"))
    for shown in ("1-1/4 in ± 1/64 in", "8/4 as bought", "19mm ± 0,2 mm", "after sanding", "not measured"):
        assert shown in page
    assert "0 of 3 measured" in typed.text(helper.get(f"/builds/{build.id}"))


def test_what_it_measures_is_judged_in_the_unit_of_the_target(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(owner, build, target="3/4", tolerance="1/32")
    size = stored(db)[0]
    measure(owner, size, "13/16", "m-1")
    measure(owner, size, "49/64", "m-2")
    page = typed.text(owner.get(f"/builds/{build.id}/sizes"))
    assert "49/64 in within, 1/64 in over" in page
    assert "1 time before 13/16 in, 1/16 in over, 1/32 in more than it may be" in page
    assert "measures 49/64 in, within, 1/64 in over" in typed.text(owner.get(f"/builds/{build.id}"))
    assert "Top, width: 49/64 in" in typed.text(owner.get(f"/builds/{build.id}/journal"))


def test_what_was_measured_is_taken_back_like_any_line(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(owner, build)
    measure(owner, stored(db)[0], "37", "m-1")
    assert owner.post("/entries/m-1/undo", data={"id": "u-1"}).status_code == 303
    assert "not measured" in owner.get(f"/builds/{build.id}/sizes").text


def test_two_sizes_are_looked_at_as_a_fit(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: an 8 mm dowel in a 5/16 in hole is 0.0625 mm too big, whatever unit either is written in."""
    build = factories.build(db, shop)
    a_size(owner, build, name="Hole", target="5/16", tolerance="1/64")
    a_size(owner, build, name="Dowel", target="8 mm", goes_into="hole", fit="dowel in hole")
    page = f"/builds/{build.id}/sizes"
    wide = "does not go in (about 0.018 in too big) to loose (about 0.013 in of play) as they should be"
    assert f"Goes into Hole , dowel in hole: {wide}" in typed.text(owner.get(page))
    hole, dowel = stored(db)
    measure(owner, hole, "5/16", "m-1")
    measure(owner, dowel, "8 mm", "m-2")
    found = typed.text(owner.get(page))
    assert "tight, about 0.002 in too big as measured" in found
    assert "Use the bit of its own size." in found


def test_a_thickness_as_bought_is_no_size_to_fit_by(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: 4/4 says how it is sold, so it is measured first."""
    build = factories.build(db, shop)
    a_size(owner, build, name="Dado", target="3/4")
    a_size(owner, build, name="Shelf", target="4/4", goes_into="dado", fit="board in dado")
    assert "measure it first" in owner.get(f"/builds/{build.id}/sizes").text
    measure(owner, stored(db)[1], "3/4", "m-1")
    assert "snug, no play" in owner.get(f"/builds/{build.id}/sizes").text


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("target", "1/0", "divided by 0"),
        ("target", "0", "A size is more than 0."),
        ("target", "", "How large should it be?"),
        ("tolerance", "abc", "is not a length"),
        ("tolerance", "36", "as much as the size itself"),
        ("fit", "dowel in hole", "Choose what it goes into as well"),
        ("goes_into", "elsewhere", "Please choose one of these."),
        ("name", " ", "What is measured?"),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(
    owner: FlaskClient, db: Session, shop: Shop, field: str, text: str, says: str
) -> None:
    build = factories.build(db, shop)
    said = {"name": "Top", "target": "36", "note": "by the <window>", field: text}
    answer = owner.post(f"/builds/{build.id}/sizes", data=said)
    assert answer.status_code == 422
    assert says in typed.text(answer)
    assert f'id="{field}-wrong"' in answer.text
    assert "by the &lt;window&gt;" in answer.text
    assert not stored(db)


def test_sent_twice_is_one_size(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    for key in ("aa", "aa", "bb"):
        a_size(owner, build, once=key)
    assert [one.key for one in stored(db)] == ["top-width", "top-width-2"]


def test_an_empty_sheet_says_what_it_is_for(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert "No sizes yet" in owner.get(f"/builds/{build.id}/sizes").text
    assert "Add sizes" in owner.get(f"/builds/{build.id}").text


def test_a_stranger_gets_nowhere(stranger: FlaskClient, owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    a_size(owner, build)
    size = stored(db)[0]
    assert stranger.get(f"/builds/{build.id}/sizes").status_code == 404
    assert stranger.post(f"/builds/{build.id}/sizes", data={"name": "a", "target": "1"}).status_code == 404
    assert stranger.get(f"/sizes/{size.id}/edit").status_code == 404
    assert stranger.post(f"/sizes/{size.id}/measured", data={"actual": "1"}).status_code == 404
    assert stranger.post(f"/sizes/{size.id}/delete").status_code == 404
