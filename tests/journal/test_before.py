"""What is told before the tin is opened: what goes badly together, old tins, cautions; it keeps nobody from work."""

from datetime import date

import pytest
from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import entries, queries, tap
from webapp.builds.models import Build, Operation
from webapp.products.models import Product, Tin
from webapp.shops.models import Reading, Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


def product(db: Session, shop: Shop, name: str, family: str, use: str = "finish") -> Product:
    found = factories.product(db, shop, name, use=use)
    found.family = family
    db.commit()
    return found


@pytest.fixture
def build(db: Session, shop: Shop) -> Build:
    return factories.build(db, shop, "Hall table", wood="maple")


def begin_and_end(client: FlaskClient, clock: Clock, operation: Operation) -> None:
    tap(client, f"/operations/{operation.id}/start", told="yes")
    clock.forward(minutes=20)
    tap(client, f"/operations/{operation.id}/done")
    clock.forward(minutes=1)


def coats(db: Session, shop: Shop, build: Build) -> tuple[Operation, Operation]:
    """Oil, and film over it."""
    oil, film = product(db, shop, "tung", "oil"), product(db, shop, "our varnish", "varnish")
    lower = factories.operation(db, build, "oil", kind="coat", name="Oil the top", product_id=oil.id)
    upper = factories.operation(db, build, "film", kind="coat", name="Varnish it", product_id=film.id, over_id=lower.id)
    return lower, upper


def test_film_over_oil_is_told_before_it_is_begun(
    owner: FlaskClient, db: Session, shop: Shop, build: Build, clock: Clock
) -> None:
    """TA06a, TA07: the pair warns on the piece's page and before the start, and one tap more begins it all the same."""
    lower, upper = coats(db, shop, build)
    begin_and_end(owner, clock, lower)
    assert (
        '<summary class="waiting">Film over oil that has not cured</summary>' in owner.get(f"/builds/{build.id}").text
    )
    answer = tap(owner, f"/operations/{upper.id}/start", next="/builds")
    assert (answer.status_code, answer.location) == (303, f"/operations/{upper.id}/start?next=/builds")
    page = owner.get(answer.location).text
    assert "<b>Film over oil that has not cured.</b> The film wrinkles, stays soft or peels." in page
    assert len(entries(db, "started")) == 1
    answer = tap(owner, f"/operations/{upper.id}/start", told="yes", reason="dry for weeks", next="/builds")
    assert answer.location == "/builds"
    assert len(entries(db, "started")) == 2


def test_it_is_said_once_for_a_product_of_a_build(
    owner: FlaskClient, db: Session, shop: Shop, build: Build, clock: Clock
) -> None:
    """The second coat of the same over the same begins with one tap, and its line says nothing again."""
    lacquer = product(db, shop, "conversion varnish", "catalysed lacquer")
    first, second = (
        factories.operation(db, build, key, kind="coat", name=key, product_id=lacquer.id) for key in ("one", "two")
    )
    assert owner.get(f"/builds/{build.id}").text.count("Hardened lacquer cracks when it is thick") == 1
    assert "/start" in str(tap(owner, f"/operations/{first.id}/start").location)
    begin_and_end(owner, clock, first)
    assert tap(owner, f"/operations/{second.id}/start").location == "/"
    assert len(entries(db, "started")) == 2


def test_a_tin_too_old_is_told_every_time(
    owner: FlaskClient, db: Session, shop: Shop, build: Build, clock: Clock
) -> None:
    shellac = product(db, shop, "shellac", "shellac")
    db.add(Tin(shop_id=shop.id, product_id=shellac.id, batch="4711", opened_on=date(2025, 1, 10)))
    db.commit()
    for operation in [
        factories.operation(db, build, key, kind="coat", product_id=shellac.id) for key in ("one", "two")
    ]:
        answer = tap(owner, f"/operations/{operation.id}/start")
        page = owner.get(str(answer.location)).text
        assert "<b>shellac, opened Fri 10 Jan 2025, batch 4711.</b> Opened 13 months ago" in page
        begin_and_end(owner, clock, operation)
    assert len(entries(db, "started")) == 2


def test_a_good_tin_beside_it_and_nothing_is_said(owner: FlaskClient, db: Session, shop: Shop, build: Build) -> None:
    shellac = product(db, shop, "shellac", "shellac")
    for day in (date(2025, 1, 10), date(2026, 1, 10)):
        db.add(Tin(shop_id=shop.id, product_id=shellac.id, opened_on=day))
    db.commit()
    operation = factories.operation(db, build, "one", kind="coat", product_id=shellac.id)
    assert tap(owner, f"/operations/{operation.id}/start").location == "/"


@pytest.mark.parametrize(
    ("wood", "kind", "name", "family", "words", "says"),
    [
        ("white oak", "sand", "", "", "Sand the doors", "No steel wool on wood with tannin"),
        ("maple", "coat", "our finish", "waterborne", "Coat", "No steel wool with water"),
        ("maple", "coat", "tung", "oil", "Oil the inside of the carcase", "Oil inside a closed piece"),
        ("cocobolo", "coat", "tung", "oil", "Oil it", "Oily wood under an oil finish"),
        ("maple", "glue-up", "our glue", "pva", "Glue the bent rail", "PVA under a load that stays"),
    ],
)
def test_what_goes_badly_together(
    owner: FlaskClient, db: Session, shop: Shop, wood: str, kind: str, name: str, family: str, words: str, says: str
) -> None:
    """The wood of the build, the kind of work and what was written count as well."""
    build = factories.build(db, shop, wood=wood)
    used = product(db, shop, name, family).id if name else None
    operation = factories.operation(db, build, "it", kind=kind, name=words, product_id=used)
    assert says in owner.get(f"/builds/{build.id}").text
    page = owner.get(f"/operations/{operation.id}/start").text
    assert f"<b>{says}.</b>" in page
    assert '<input type="hidden" name="told" value="yes">' in page


def test_what_speaks_of_no_product_holds_nobody_up(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, wood="white oak")
    operation = factories.operation(db, build, "sand", name="Sand the doors")
    assert tap(owner, f"/operations/{operation.id}/start").location == "/"


def test_the_finish_of_another_part_lies_not_under_it(
    owner: FlaskClient, db: Session, shop: Shop, build: Build
) -> None:
    oil, film = product(db, shop, "tung", "oil"), product(db, shop, "our varnish", "varnish")
    inner = factories.operation(db, build, "oil", kind="coat", product_id=oil.id, group="shelves")
    upper = factories.operation(
        db, build, "film", kind="coat", product_id=film.id, group="top", after=[inner], name="Varnish"
    )
    assert "Film over oil" not in owner.get(f"/operations/{upper.id}/start").text


def test_cautions_are_said_once_as_it_is_begun(
    helper: FlaskClient, db: Session, shop: Shop, build: Build, clock: Clock
) -> None:
    """One line each, the rest folded; not again when it goes on, and again about the cloths when oil is done."""
    lower, _ = coats(db, shop, build)
    page = helper.get(f"/operations/{lower.id}/start").text
    assert "<summary>Oily rags can catch fire by themselves</summary>" in page
    assert "Follow the label, local codes and licensed practice." in page
    tap(helper, f"/operations/{lower.id}/start")
    assert "<b>Mind:</b> Oily rags can catch fire by themselves; Air for solvents." in helper.get("/").text
    assert "<summary>Mind: Oily rags can catch fire by themselves" in helper.get(f"/builds/{build.id}").text
    clock.forward(minutes=20)
    tap(helper, f"/operations/{lower.id}/pause")
    helper.get("/")
    tap(helper, f"/operations/{lower.id}/start")
    assert "<b>Mind:</b>" not in helper.get("/").text
    tap(helper, f"/operations/{lower.id}/done")
    assert "<b>Oily rags can catch fire by themselves.</b>" in helper.get("/").text


def test_what_the_page_before_said_is_not_said_again(owner: FlaskClient, db: Session, shop: Shop, build: Build) -> None:
    lower, _ = coats(db, shop, build)
    tap(owner, f"/operations/{lower.id}/start", told="yes")
    assert "<b>Mind:</b>" not in owner.get("/").text


def test_delivering_a_chest_reminds_of_tipping(owner: FlaskClient, db: Session, shop: Shop) -> None:
    build = factories.build(db, shop, "Chest of drawers")
    operation = factories.operation(db, build, "deliver")
    assert "Chests and wardrobes fall on children" in owner.get(f"/operations/{operation.id}/start").text


def test_the_form_tells_of_what_was_chosen(owner: FlaskClient, db: Session, shop: Shop, build: Build) -> None:
    """Clamps by kind of joint for a glue; what goes badly together; and it is saved all the same."""
    lower, upper = coats(db, shop, build)
    page = owner.get(f"/operations/{upper.id}/edit").text
    assert "<b>Film over oil that has not cured.</b>" in page
    glue = product(db, shop, "yellow PVA", "pva", "glue")
    data = {
        "name": "Laminate the curved rail", "kind": "glue-up", "minutes": "", "product_id": str(glue.id),
        "count": "1", "makers": "1",
    }  # fmt: skip
    wrong = owner.post(f"/builds/{build.id}/operations", data=data)
    assert wrong.status_code == 422
    assert "<b>PVA under a load that stays.</b>" in wrong.text
    assert "edge 1 h, mortise and tenon 1 h, mitre 2 h, bent lamination 24 h, veneer 4 h." in wrong.text
    assert "Water: usually D2 (EN 204): inside, now and then a little water" in wrong.text
    assert owner.post(f"/builds/{build.id}/operations", data={**data, "minutes": "30"}).status_code == 303
    assert "In clamps with" not in owner.get(f"/operations/{lower.id}/edit").text


def test_a_page_asks_as_often_for_many_operations(
    owner: FlaskClient, db: Session, shop: Shop, build: Build, engine: Engine
) -> None:
    coats(db, shop, build)
    before = queries(engine, owner, f"/builds/{build.id}")
    for number in range(20):
        factories.operation(db, build, f"coat-{number}", kind="coat", product_id=build.operations[0].product_id)
    assert queries(engine, owner, f"/builds/{build.id}") <= before


def test_where_it_says_to_warm_the_room_it_says_how(owner: FlaskClient, db: Session, shop: Shop, build: Build) -> None:
    """TA02a: too cold for the glue at its start; warming has a caution of its own."""
    glue = product(db, shop, "yellow PVA", "pva", "glue")
    glue.figures[0].data = {**glue.figures[0].data, "lowest": 10.0}
    db.add(Reading(shop_id=shop.id, at=START, temperature=7.2222, unit="F"))
    db.commit()
    operation = factories.operation(db, build, "glue-up", product_id=glue.id)
    page = owner.get(f"/operations/{operation.id}/start").text
    assert "Not in this air." in page
    assert "<summary>Warm the room without a flame</summary>" in page
