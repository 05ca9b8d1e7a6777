import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.builds.models import Build, Part
from webapp.shops.models import Shop

INCH = 25_400_000
MM = 1_000_000
FORMS = [
    ("3/4", 3 * INCH // 4),
    ("1 1/4", 5 * INCH // 4),
    ("1-1/4", 5 * INCH // 4),
    ('1-1/4"', 5 * INCH // 4),
    ("1¼", 5 * INCH // 4),
    ("1.25", 5 * INCH // 4),
    ("13/16", 20_637_500),
    ("2' 3-1/2\"", 55 * INCH // 2),
    ("19 mm", 19 * MM),
    ("19mm", 19 * MM),
    ("24-3/4", 628_650_000),
]


@pytest.mark.parametrize(("text", "nanometres"), FORMS)
def test_a_size_is_taken_as_a_maker_writes_it(
    owner: FlaskClient, db: Session, shop: Shop, text: str, nanometres: int
) -> None:
    """TA29: every way of writing is exact, and shown back as it was written."""
    build = factories.build(db, shop)
    sent = typed.part(thickness=text, width=text, length=text)
    assert owner.post(f"/builds/{build.id}/parts", data=sent).status_code == 303
    found = typed.stored(db, Part)[0]
    assert (found.thickness_nm, found.width_nm, found.length_nm) == (nanometres,) * 3
    form = typed.version(owner, f"/parts/{found.id}/edit")
    for side in ("thickness", "width", "length"):
        assert form[side].startswith(text)
        assert form[side] in (text, f"{text} in")
    page = typed.text(owner.get(f"/builds/{build.id}/parts"))
    assert f"{form['thickness']} {form['width']} {form['length']}" in page


def test_quarters_are_a_thickness_as_bought(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: 8/4 in the thickness stays 8/4; the width has no such thing and means 2 inches."""
    build = factories.build(db, shop)
    owner.post(f"/builds/{build.id}/parts", data=typed.part(thickness="8/4", width="8/4"))
    found = typed.stored(db, Part)[0]
    assert (found.thickness_typed, found.thickness_nm) == ("8/4", 2 * INCH)
    assert (found.width_typed, found.width_nm) == ("8/4 in", 2 * INCH)
    assert typed.version(owner, f"/parts/{found.id}/edit")["thickness"] == "8/4"


@pytest.mark.parametrize("text", ["1/0", "abc", "-3/4", "1/4-20", "1/4 1/2"])
def test_what_is_no_size_stays_in_its_field(owner: FlaskClient, db: Session, shop: Shop, text: str) -> None:
    """TA29: a clear message, and nothing that was typed is lost."""
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/parts", data=typed.part(length=text, width="3 1/2"))
    assert answer.status_code == 422
    assert f'name="length" type="text" value="{text}"' in answer.text
    assert 'value="3 1/2"' in answer.text
    assert 'id="length-wrong"' in answer.text
    assert not typed.stored(db, Part)


def test_mixed_units_keep_theirs_and_their_sum_is_exact(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA29: three thirds of a foot are a foot, whatever the others are written in."""
    build = factories.build(db, shop)
    owner.post(f"/builds/{build.id}/parts", data=typed.part(count="3", length="1/3 ft"))
    owner.post(f"/builds/{build.id}/parts", data=typed.part(count="1", length="254 mm"))
    page = typed.text(owner.get(f"/builds/{build.id}/parts"))
    assert "4 pieces, 12 in and 254 mm of length in all" in page
    assert "1/3 ft" in page
    assert "254 mm" in page


def test_a_part_is_added_and_the_form_is_there_again(helper: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, wood="cherry")
    assert typed.version(helper, f"/builds/{build.id}/parts")["wood"] == "cherry"
    answer = helper.post(f"/builds/{build.id}/parts", data=typed.part(wood="ash", note="tapered"))
    assert (answer.status_code, answer.location) == (303, f"/builds/{build.id}/parts#next")
    helper.post(f"/builds/{build.id}/parts", data=typed.part(name="Rail", count="2"))
    assert [(one.name, one.count, one.position) for one in typed.stored(db, Part)] == [("Leg", 4, 1), ("Rail", 2, 2)]
    page = helper.get(f"/builds/{build.id}/parts")
    assert "tapered" in page.text
    assert "6 pieces" in typed.text(page)
    assert "6 pieces" in typed.text(helper.get(f"/builds/{build.id}"))


def test_an_empty_list_says_how_to_write_sizes(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    assert "No parts yet" in owner.get(f"/builds/{build.id}/parts").text


def test_bad_input_comes_back_as_typed(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop)
    answer = owner.post(f"/builds/{build.id}/parts", data=typed.part(name=" ", count="none", wood="bog oak"))
    assert answer.status_code == 422
    assert "Which part is it?" in answer.text
    assert 'value="none"' in answer.text
    assert 'value="bog oak"' in answer.text


def test_sent_twice_is_one_part(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """SA15: the same part twice is one; the next one typed the same is another."""
    build = factories.build(db, shop)
    for key in ("aa", "aa", "bb"):
        assert owner.post(f"/builds/{build.id}/parts", data=typed.part(once=key)).status_code == 303
    assert len(typed.stored(db, Part)) == 2


def a_part(db: Session, build: Build) -> Part:
    part = Part(shop_id=build.shop_id, build_id=build.id, position=1, name="Leg", count=4)
    db.add(part)
    db.commit()
    return part


def test_a_part_is_changed(helper: FlaskClient, db: Session, shop: Shop) -> None:
    part = a_part(db, factories.build(db, shop))
    address = f"/parts/{part.id}/edit"
    answer = helper.post(address, data={**typed.version(helper, address), "width": "45 mm"})
    assert (answer.status_code, answer.location) == (303, f"/builds/{part.build_id}/parts")
    assert (typed.stored(db, Part)[0].width_typed, typed.stored(db, Part)[0].count) == ("45 mm", 4)


def test_two_who_change_one_part_lose_nothing(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    """SA09: the second is told and sees both."""
    part = a_part(db, factories.build(db, shop))
    address = f"/parts/{part.id}/edit"
    first, second = typed.version(owner, address), typed.version(helper, address)
    owner.post(address, data={**first, "width": "1 3/4"})
    late = helper.post(address, data={**second, "width": "45 mm"})
    assert late.status_code == 409
    assert "Width 1 3/4 in 45 mm" in typed.text(late)
    assert typed.stored(db, Part)[0].width_typed == "1 3/4 in"


def test_a_part_is_taken_off_the_list(helper: FlaskClient, db: Session, shop: Shop) -> None:
    part = a_part(db, factories.build(db, shop))
    answer = helper.post(f"/parts/{part.id}/delete")
    assert answer.location == f"/builds/{part.build_id}/parts"
    assert not typed.stored(db, Part)


def test_a_stranger_gets_nowhere(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    part = a_part(db, factories.build(db, shop))
    assert stranger.get(f"/builds/{part.build_id}/parts").status_code == 404
    assert stranger.post(f"/builds/{part.build_id}/parts", data=typed.part()).status_code == 404
    assert stranger.get(f"/parts/{part.id}/edit").status_code == 404
    assert stranger.post(f"/parts/{part.id}/edit", data=typed.part()).status_code == 404
    assert stranger.post(f"/parts/{part.id}/delete").status_code == 404
    assert typed.stored(db, Part)
