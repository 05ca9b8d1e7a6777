"""The air of the room before a tin is opened, and what a low reading does to a joint that is made."""

from datetime import UTC, datetime, timedelta

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START, Clock
from tests.journal.steps import tap
from webapp.builds.models import Operation
from webapp.journal.actions import waits
from webapp.products.models import Figures, Product
from webapp.shops.models import Reading, Shop

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)
F = 5 / 9


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * F


def glue(db: Session, shop: Shop, **figures: object) -> Product:
    """Yellow PVA: 1 h in clamps and 24 h to full strength at 70 °F, twice as long for each 15 °F under it."""
    data = {
        "rated_at": celsius(70),
        "doubles_per": 15 * F,
        "lowest": celsius(50),
        "stages": [{"name": "out of clamps", "hours": 1}, {"name": "full strength", "hours": 24}],
        **figures,
    }
    found = Product(shop_id=shop.id, name="yellow PVA", family="yellow PVA", use="glue")
    found.figures = [Figures(number=1, data=data, source="a magazine", at=START)]
    db.add(found)
    db.commit()
    return found


def read(db: Session, shop: Shop, at: datetime, fahrenheit: float, humidity: float | None = None) -> None:
    db.rollback()
    db.add(Reading(shop_id=shop.id, at=at, temperature=celsius(fahrenheit), humidity=humidity, unit="F"))
    db.commit()


@pytest.fixture
def warm(db: Session, shop: Shop) -> Shop:
    """A shop at 70 °F day and night, where no reading says otherwise."""
    shop.climate_day = shop.climate_night = celsius(70)
    shop.temperature_unit = "F"
    db.commit()
    return shop


@pytest.fixture
def joint(db: Session, warm: Shop) -> Operation:
    build = factories.build(db, warm, status="in the making")
    found = factories.operation(db, build, "glue-up", name="Glue up the top", product_id=glue(db, warm).id, minutes=30)
    factories.operation(db, build, "level", after=[(found, "full strength")])
    return found


def ends(db: Session, shop: Shop, clock: Clock) -> dict[str, datetime]:
    db.rollback()
    return {wait.stage: wait.end for wait in waits(db, shop, clock.moment)}


def test_a_cool_shop_doubles_the_wait_from_its_real_start(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    """TA01: 1 h and 24 h at 70 °F are 2 h and 48 h at 55 °F; a late reading counts from when it was taken."""
    done = clock.moment.replace(second=0)
    clock.moment = done
    tap(owner, f"/operations/{joint.id}/done")
    assert ends(db, warm, clock) == {
        "out of clamps": done + timedelta(hours=1), "full strength": done + timedelta(hours=24)
    }  # fmt: skip
    for hours in (0, 12, 24, 36):
        read(db, warm, done + timedelta(hours=hours), 55)
    clock.forward(minutes=40)
    assert ends(db, warm, clock) == {
        "out of clamps": done + timedelta(hours=2), "full strength": done + timedelta(hours=48)
    }  # fmt: skip
    bench = owner.get("/").text
    assert "55 °F now; the label’s 1 h is for 70 °F" in bench


def test_too_cold_is_said_before_the_glue_is_opened(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    """TA02 (a): no long, harmless time is printed; it may be started all the same, with a reason that stays."""
    read(db, warm, clock.moment - timedelta(minutes=5), 45)
    bench = owner.get("/").text
    assert "Not now. 45 °F is too cold for yellow PVA: it needs 50 °F until 24 h after the work" in bench
    page = owner.get(f"/operations/{joint.id}/start").text
    assert "Not in this air." in page
    answer = owner.post(f"/operations/{joint.id}/start", data={"id": "a" * 32})
    assert answer.location.endswith(f"/operations/{joint.id}/start?next=/")
    tap(owner, f"/operations/{joint.id}/start", reason="The wood is warm")
    assert "Started too early" not in owner.get("/").text
    assert "too cold" in owner.get("/journal").text


def test_a_cold_night_makes_a_joint_suspect(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    """TA02 (b): as soon as the low reading is there; it has no end until somebody has tested it."""
    tap(owner, f"/operations/{joint.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{joint.id}/done")
    clock.forward(hours=8)
    read(db, warm, clock.moment, 38)
    bench = owner.get("/").text
    assert "Glue up the top: does it hold?" in bench
    assert "It was 38 °F" in bench
    assert "warming it now does not mend it" in bench
    assert ends(db, warm, clock) == {}
    address = f"/operations/{joint.id}/doubt"
    assert owner.post(address, data={"id": "c" * 32, "reason": ""}).status_code == 422
    assert tap(owner, address, reason="An offcut broke in the wood").status_code == 303
    assert "does it hold?" not in owner.get("/").text
    assert ends(db, warm, clock)["full strength"] > clock.moment + timedelta(hours=16)
    assert "An offcut broke in the wood" in owner.get("/journal").text


def test_a_night_that_is_usually_cold_is_said_ahead(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    tap(owner, f"/operations/{joint.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{joint.id}/done")
    db.rollback()
    warm.climate_night = celsius(40)
    db.commit()
    bench = owner.get("/").text
    assert "cold ahead" in bench
    assert "40 °F at 22:00, and yellow PVA needs 50 °F until Wed 4 Feb 14:48. Keep it warm until then." in bench
    assert "does it hold?" not in bench


DEW = "The dew point is only {} below the air: yellow PVA wants 20 °F"


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "says"),
    [
        (80, 65, [DEW.format("12.8 °F")]),
        (80, 60, [DEW.format("15.1 °F")]),
        (85, 45, []),
        (80, 70, ["70 % humidity: yellow PVA stands 65 % at most"]),
    ],
)
def test_damp_air_is_said_before_the_tin_is_opened(
    owner: FlaskClient, db: Session, warm: Shop, clock: Clock, fahrenheit: float, humidity: float, says: list[str]
) -> None:
    """TA10: no spraying over 65 %, nor with the dew point less than 20 °F under the air; each by its own rule."""
    build = factories.build(db, warm, status="in the making")
    product = glue(db, warm, humidity_max=65, dew_gap=20 * F)
    factories.operation(db, build, "coat", product_id=product.id, minutes=30)
    read(db, warm, clock.moment - timedelta(minutes=5), fahrenheit, humidity)
    page = owner.get("/").text
    assert ("Not now." in page) == bool(says)
    assert all(text in page for text in says)


def test_only_hours_that_count_end_a_wait(owner: FlaskClient, db: Session, warm: Shop, clock: Clock) -> None:
    """TA08: 24 h with the windows open, shut from 18:00 to 06:00: Monday 10:00 is up on Wednesday 10:00."""
    build = factories.build(db, warm, status="in the making")
    open_windows = glue(db, warm, lowest=None, stages=[{"name": "next coat", "hours": 24}])
    one = factories.operation(db, build, "coat", product_id=open_windows.id)
    factories.operation(db, build, "sand", after=[(one, "next coat")])
    clock.moment = datetime(2026, 2, 2, 15, tzinfo=UTC)  # Monday 10:00 in New York
    tap(owner, f"/operations/{one.id}/done")
    db.rollback()
    for day in (2, 3):
        shut = datetime(2026, 2, day, 23, tzinfo=UTC)
        for at, counts in ((shut, False), (shut + timedelta(hours=12), True)):
            db.add(Reading(shop_id=warm.id, at=at, temperature=celsius(70), unit="F", counts=counts))
    db.commit()
    assert ends(db, warm, clock) == {"next coat": datetime(2026, 2, 4, 15, tzinfo=UTC)}


def test_a_reading_says_what_it_moved(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    clock.moment = clock.moment.replace(second=0)
    tap(owner, f"/operations/{joint.id}/done")
    clock.forward(minutes=20)
    assert "Moved by the last reading" not in owner.get("/").text
    read(db, warm, clock.moment, 55)
    assert "Moved by the last reading, was 15:18" in owner.get("/").text
    clock.forward(hours=1, minutes=1)
    assert "Moved by the last reading" not in owner.get("/").text


@pytest.fixture
def coat(db: Session, warm: Shop) -> Operation:
    build = factories.build(db, warm, status="in the making")
    product = glue(db, warm, humidity_max=65, dew_gap=20 * F)
    return factories.operation(db, build, "coat", name="Lacquer it", product_id=product.id, minutes=30)


def test_damp_that_was_read_while_a_coat_went_on_is_asked_about(
    owner: FlaskClient, db: Session, warm: Shop, coat: Operation, clock: Clock
) -> None:
    """TA10: after a reading too, until somebody has looked; the wait itself goes on."""
    factories.operation(db, coat.build, "rub", after=[(coat, "full strength")])
    tap(owner, f"/operations/{coat.id}/start")
    clock.forward(minutes=10)
    assert "is it good?" not in owner.get("/").text
    read(db, warm, clock.moment, 70, 72)
    bench = owner.get("/").text
    assert "Lacquer it: is it good?" in bench
    assert "72 % humidity: yellow PVA stands 65 % at most. So it was at 14:28, while it was put on." in bench
    clock.forward(minutes=20)
    tap(owner, f"/operations/{coat.id}/done")
    assert "Is it good?" in owner.get(f"/builds/{coat.build_id}").text
    assert "full strength" in ends(db, warm, clock)
    address = f"/operations/{coat.id}/doubt"
    assert "So it was at 14:28" in owner.get(address).text
    tap(owner, address, reason="Clear on the glass beside it")
    assert "The dew point is only 9.4 °F below the air" in owner.get("/").text  # the other rule has its own say
    tap(owner, address, reason="Clear on the glass beside it")
    assert "is it good?" not in owner.get("/").text
    assert owner.get("/journal").text.count("Clear on the glass beside it") == 2


def test_damp_after_the_work_or_answered_for_before_is_not_asked_about(
    owner: FlaskClient, db: Session, warm: Shop, coat: Operation, clock: Clock
) -> None:
    other = factories.operation(db, coat.build, "second", kind="coat", product_id=coat.product_id, minutes=30)
    tap(owner, f"/operations/{coat.id}/start")
    clock.forward(minutes=30)
    tap(owner, f"/operations/{coat.id}/done")
    clock.forward(minutes=1)
    read(db, warm, clock.moment, 70, 72)
    tap(owner, f"/operations/{other.id}/start", reason="Only the inside")
    assert "is it good?" not in owner.get("/").text


def test_a_piece_that_is_delivered_is_asked_about_no_more(
    owner: FlaskClient, db: Session, warm: Shop, coat: Operation, clock: Clock
) -> None:
    read(db, warm, clock.moment, 70, 60)
    tap(owner, f"/operations/{coat.id}/start", reason="It dries inside")  # too near the dew point
    clock.forward(minutes=10)
    read(db, warm, clock.moment, 70, 72)
    assert "is it good?" in owner.get("/").text
    db.rollback()
    coat.build.status = "delivered"
    db.commit()
    assert "is it good?" not in owner.get("/").text


def test_the_bench_says_a_span_of_the_label_as_its_product_does(
    owner: FlaskClient, db: Session, warm: Shop, joint: Operation, clock: Clock
) -> None:
    """TA02: three days are three days on the bench too, not 72 h."""
    read(db, warm, clock.moment - timedelta(minutes=5), 45)
    figures = db.get_one(Product, joint.product_id).figures[0]
    figures.data = {**figures.data, "lowest_for_hours": 72}
    db.commit()
    assert "until 3 days after the work" in owner.get("/").text
    assert "from the work until 3 days after" in owner.get(f"/products/{joint.product_id}").text
