"""The page of now."""

import re
from datetime import timedelta

from flask.testing import FlaskClient
from sqlalchemy import Engine
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import glue_up, queries, tap
from webapp.builds.models import Hold
from webapp.shops.models import Equipment, Opening, Shop


def section(page: str, part: str) -> str:
    """The words of one part of the bench."""
    found = re.search(rf'<section class="part-{part}".*?</section>', page, re.S)
    return " ".join(re.sub(r"<[^>]+>", " ", found[0]).split()) if found else ""


def test_an_empty_bench_teaches(owner: FlaskClient) -> None:
    page = owner.get("/").text
    assert "Nothing is on the bench yet." in page
    assert 'href="/builds/new"' in page


def test_nobody_is_sent_to_sign_in(nobody: FlaskClient) -> None:
    assert nobody.get("/").status_code == 303


def test_strangers_see_their_own_bench(stranger: FlaskClient, db: Session, shop: Shop) -> None:
    factories.operation(db, factories.build(db, shop, "Secret desk"))
    assert "Secret desk" not in stranger.get("/").text


def test_in_hand_counts_from_the_stored_instant(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    operation = factories.operation(db, factories.build(db, shop, "Ash table"), "groove", name="Groove", minutes=75)
    tap(owner, f"/operations/{operation.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{operation.id}/pause")
    clock.forward(minutes=60)
    tap(owner, f"/operations/{operation.id}/start")
    since = clock.moment.isoformat(timespec="seconds")
    clock.forward(minutes=17)
    page = owner.get("/").text
    assert f'data-since="{since}" data-before="30">0:47<' in page
    assert "estimated 1 h 15 min" in section(page, "hand")
    assert "Done" in section(page, "hand")


def test_others_clocks_are_seen_and_not_offered(
    owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop
) -> None:
    operation = factories.operation(db, factories.build(db, shop), name="Sand it")
    tap(owner, f"/operations/{operation.id}/start")
    hand = section(helper.get("/").text, "hand")
    assert "Ada: Sand it" in hand
    assert "Pause" not in hand


def test_what_ends_or_spoils_next_stands_first(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    glue, _ = glue_up(db, shop)
    page = owner.get("/").text
    assert "comes out of clamps" not in page
    tap(owner, f"/operations/{glue.id}/done")
    page = owner.get("/").text
    assert page.index("Glue up the top comes out of clamps") < page.index('id="waiting"')
    db.rollback()
    fresh = factories.operation(db, glue.build, "joint", name="Glue the fresh edge", after=[glue])
    fresh.after[0].within_minutes = 20
    db.commit()
    assert "latest start of Glue the fresh edge" in owner.get("/").text


def test_waits_stand_by_their_next_end_with_their_clamps(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    late, _ = glue_up(db, shop, hours=4, glue="slow glue", name="Slow")
    early, _ = glue_up(db, shop, hours=2, glue="fast glue", name="Fast")
    clamps = Equipment(shop_id=shop.id, name="long clamps", count=8)
    db.add(clamps)
    db.flush()
    early.holds.append(Hold(equipment_id=clamps.id, count=6, until="out of clamps"))
    db.commit()
    for one in (late, early):
        tap(owner, f"/operations/{one.id}/done")
    waiting = section(owner.get("/").text, "waiting")
    assert waiting.index("Fast") < waiting.index("Slow")
    assert "6 of 8 long clamps" in waiting
    assert "16:18 in 2 h" in waiting


def test_the_recoat_window_says_open_shut_and_start_by(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    varnish = factories.product(
        db, shop, "varnish", "finish", stages=[], recoat=[{"from_hours": 4, "to_hours": 20}, {"from_hours": 72}]
    )
    build = factories.build(db, shop, "Wall cabinet")
    first = factories.operation(db, build, "coat1", name="First coat", kind="coat", product_id=varnish.id)
    factories.operation(
        db, build, "coat2", name="Second coat", kind="coat", product_id=varnish.id, over_id=first.id, minutes=35
    )
    tap(owner, f"/operations/{first.id}/done")
    page = owner.get("/").text
    waiting = section(page, "waiting")
    assert "Second coat over First coat · Wall cabinet" in waiting
    assert "18:18 in 4 h until Wed 4, 10:18" in waiting
    assert "start by Wed 4, 09:43" in waiting
    assert "18:18 open" in waiting
    assert "Wed 10:18 shut" in waiting
    ready = section(page, "ready")
    assert "Not now. First coat may be coated over from 18:18, in 4 h" in ready
    clock.forward(hours=5)
    page = owner.get("/").text
    assert "till Wed 10:18" in section(page, "waiting")
    assert "latest start of Second coat" in page
    assert "look first whether it is dry" in section(page, "ready")


def test_ready_work_that_fits_stands_before_what_does_not(
    owner: FlaskClient, db: Session, shop: Shop, clock: Clock
) -> None:
    """It is 14:18 and the shop shuts at 17:00."""
    build = factories.build(db, shop)
    factories.operation(db, build, "dovetail", name="Dovetail the drawers", minutes=420)
    cut = factories.operation(db, build, "cut", name="Cut the fronts", minutes=160)
    factories.operation(db, build, "fit", name="Fit the fronts", minutes=10, after=[cut])
    ready = section(owner.get("/").text, "ready")
    assert "Ready, and fits before 17:00 2 h 42 min left" in ready
    assert ready.index("Cut the fronts") < ready.index("longer than today") < ready.index("Dovetail the drawers")
    assert "Fit the fronts" not in ready
    clock.forward(hours=4)
    assert "Ready shop opens Wed 4, 08:00" in section(owner.get("/").text, "ready")


def test_a_makers_own_hours_say_what_fits(owner: FlaskClient, helper: FlaskClient, db: Session, shop: Shop) -> None:
    factories.operation(db, factories.build(db, shop), minutes=30)
    ben = factories.maker(db, shop, "Ben")
    db.add(Opening(shop_id=shop.id, maker_id=ben.id, weekday=1, opens=13 * 60, closes=15 * 60))
    db.commit()
    assert "fits before 15:00 42 min left" in section(helper.get("/").text, "ready")
    assert "fits before 17:00" in section(owner.get("/").text, "ready")


def test_builds_that_are_put_away_ask_nothing(owner: FlaskClient, db: Session, shop: Shop, clock: Clock) -> None:
    for status in ("enquiry", "lost", "closed"):
        factories.operation(db, factories.build(db, shop, status=status), name=f"Mill for {status}")
    assert "Mill for" not in owner.get("/").text


def test_queries_do_not_grow(owner: FlaskClient, db: Session, shop: Shop, engine: Engine, clock: Clock) -> None:
    ada = factories.maker(db, shop, "Ada")
    product = factories.product(db, shop)
    counts = []
    for _ in range(2):
        for _ in range(4):
            build = factories.build(db, shop)
            glue = factories.operation(db, build, "glue-up", product_id=product.id)
            factories.operation(db, build, "level", after=[(glue, "full strength")])
            factories.operation(db, build, "sand")
            factories.entry(db, ada, "done", START - timedelta(minutes=5), on=glue)
        counts.append(queries(engine, owner, "/"))
    assert counts[0] == counts[1]
    assert counts[0] <= 32
