"""What a product's page says that its figures mean now, in the air of a room."""

import re
from datetime import timedelta
from html import unescape

import pytest
from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.conftest import START
from tests.journal.steps import queries
from tests.products.test_show import seeded
from webapp.products.models import Product
from webapp.shops.models import Reading, Room, Shop
from webapp.trade.products.families import family

pytestmark = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


def cells(page: str) -> dict[str, list[str]]:
    """What stands in each row of the table, by its label; of several alike the first."""
    table = page[page.index('class="figures times"') :]
    found: dict[str, list[str]] = {}
    for row in re.findall(r"<tr>(.*?)</tr>", table[: table.index("</table>")])[1:]:
        label, *rest = (unescape(re.sub("<[^>]+>", "", cell)) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row))
        found.setdefault(label, rest)
    return found


def of_family(db: Session, shop: Shop, name: str) -> Product:
    one = family(name)
    found = factories.product(db, shop, f"our {name}", use=one.use)
    found.family, found.figures[0].data = one.family, one.data()
    db.commit()
    return found


def test_clamps_and_strength_in_a_cool_shop(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA01: 1 h and 24 h at 70 °F are 2 h and 48 h at 55 °F (doubling for each 15 °F, woodmagazine.com)."""
    key = seeded(db, shop, "yellow PVA")
    found = cells(owner.get(f"/products/{key}?temperature=55").text)
    assert found["Out of clamps"] == ["1 h", "2 h", "16:18"]
    assert found["Full strength"] == ["24 h", "2 days", "Thu 5, 14:18"]
    celsius = cells(owner.get(f"/products/{key}?temperature=12.8 C").text)
    assert celsius["Out of clamps"][1] == "2 h"
    assert celsius["Full strength"][1] == "47 h 55 min"  # 12.8 °C is 55.04 °F


def test_the_page_says_which_temperature_it_counts_with(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA01: a reading counts for twelve hours, then the usual air: by 02:18 it is 6 h old, then 16 °C, day 20 °C."""
    key = seeded(db, shop, "yellow PVA")
    page = owner.get(f"/products/{key}").text
    assert "68 °F · 50 % · usual for this hour, nothing read in the last 12 h" in page
    db.add(Reading(shop_id=shop.id, at=START - timedelta(minutes=8), temperature=12.7778, unit="F"))
    db.commit()
    page = owner.get(f"/products/{key}").text
    assert "55 °F · 50 % · read 14:10" in page
    assert "Longer waits count with the usual 68 °F by day and 60.8 °F by night, from Wed 4, 02:10 on" in page
    assert cells(page)["Out of clamps"] == ["1 h", "2 h", "16:18"]


def test_each_room_has_its_own_air(owner: FlaskClient, db: Session, shop: Shop) -> None:
    key, loft = (
        seeded(db, shop, "yellow PVA"),
        Room(shop_id=shop.id, name="Loft", climate_day=12.7778, climate_night=13),
    )
    db.add(loft)
    db.commit()
    assert "<option selected" in owner.get(f"/products/{key}").text
    page = owner.get(f"/products/{key}?room={loft.id}").text
    assert "Now, in Loft" in page
    assert cells(page)["Out of clamps"][1] == "2 h"
    assert owner.get(f"/products/{key}?room=999").status_code == 422


def test_too_cold_stands_in_place_of_a_time(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA02a: at 45 °F yellow PVA does not bond; no doubled time, but warmer wood or a glue that stands it."""
    page = owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}?temperature=45").text
    assert "It will not bond here: it is 45 °F, and yellow PVA needs 50 °F at least" in page
    assert "Warm the wood and the room first." in page
    assert "PU glue</a> (40 °F)" in page
    assert "Warm the room without a flame" in page
    assert cells(page)["Out of clamps"] == ["1 h", "not now", ""]
    assert 'class="bar strip"' not in page


def test_no_rule_is_known_so_it_is_tested(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA03, TA06b: water leaving a glue line and an oil film follow no rule that anybody gives."""
    key = seeded(db, shop, "yellow PVA")
    assert cells(owner.get(f"/products/{key}?temperature=55").text)["Ready to plane"][1:] == [
        "longer than 7 days", "no known rule: test it",
    ]  # fmt: skip
    usual = cells(owner.get(f"/products/{key}").text)["Ready to plane"][1:]
    assert usual == ["7 days at least", "Tue 10 February, 14:18, no known rule for the cold: test it"]
    assert cells(owner.get(f"/products/{key}?temperature=70").text)["Ready to plane"][1:] == [
        "7 days",
        "Tue 10 February, 14:18",
    ]
    stain = of_family(db, shop, "oil stain")
    assert cells(owner.get(f"/products/{stain.id}?temperature=55").text)["Next layer"][1] == "longer than 24 h"


@pytest.mark.parametrize(
    ("degrees", "humidity", "says"),
    [
        ("80", "65", "that is 67.2 °F, 12.8 °F under the air, and it wants 20 °F"),
        ("80", "60", "that is 64.9 °F, 15.1 °F under the air, and it wants 20 °F"),
        ("85", "45", ""),
        ("85", "66", "Too damp: 66 %, and it stands 65 % at most."),
    ],
)
def test_blush(owner: FlaskClient, db: Session, shop: Shop, degrees: str, humidity: str, says: str) -> None:
    """TA10a-c: dew points by the Magnus formula; 65 % itself is not over 65 %."""
    lacquer = of_family(db, shop, "nitrocellulose lacquer")
    page = owner.get(f"/products/{lacquer.id}?temperature={degrees}&humidity={humidity}").text
    assert ("Too " in page) == bool(says)
    assert says in page
    assert ("not now" in page) == bool(says)


def test_waterborne_in_cold_and_damp(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA10d: at 58 °F and 85 % the label's 2 h are not printed: longer, warm the room, test before the next coat."""
    product = of_family(db, shop, "waterborne polyurethane")
    product.figures[0].data = {**product.figures[0].data, "recoat": [{"from_hours": 2}]}
    db.commit()
    page = owner.get(f"/products/{product.id}?temperature=58&humidity=85").text
    assert "Too damp: 85 %, and it stands 80 % at most. It dries longer than the label says" in page
    assert "to 65 °F and up, or dry the air, and test before the next layer" in page
    assert cells(page)["Next layer"] == ["from 2 h on", "not now", ""]
    cold = owner.get(f"/products/{product.id}?temperature=58&humidity=50").text
    assert "58 °F is cold for it." in cold
    assert cells(cold)["Next layer"] == ["from 2 h on", "longer than 2 h", "no known rule: test it"]


def test_windows_open_and_shut_on_the_strip(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA05, TA15: within 2 h, or after 72 h and sanded; what is shut between is drawn, and the table says the same."""
    found = of_family(db, shop, "brushing varnish")
    windows = [{"from_hours": 0, "to_hours": 2}, {"from_hours": 72, "needs": ["sand"]}]
    found.figures[0].data = {**found.figures[0].data, "stages": [], "recoat": windows}
    db.commit()
    page = owner.get(f"/products/{found.id}?temperature=70").text
    strip = page[page.index('class="bar strip"') : page.index("</svg>", page.index('class="bar strip"'))]
    assert re.findall(r'class="(open|shut) frame"', strip) == ["open", "shut", "open"]
    assert re.findall(r">([a-z ]+ from [^<]+)<", strip) == [
        "open from 14:18",
        "shut from 16:18",
        "sanded from Fri 6, 14:18",
    ]
    rows = re.findall(r'<th scope="row">Next layer</th><td>(.*?)</td><td>(.*?)</td><td>(.*?)</td>', page)
    assert rows == [
        ("within 2 h", "from 0 min to 2 h", "from 14:18 to 16:18"),
        ("from 3 days on, sanded", "from 3 days", "from Fri 6, 14:18"),
    ]


def test_epoxy_is_slower_when_cold(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA15: in a colder shop all spans are longer: each 18 °F colder doubles them."""
    found = of_family(db, shop, "slow epoxy")
    page = owner.get(f"/products/{found.id}?temperature=52").text
    assert "<td>from 2 h to 6 h</td><td>from 4 h to 12 h</td>" in page
    assert "washed and sanded" in page


def test_warmth_shortens_the_open_time(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA04: open and closed time are kept apart, and both are shorter at 85 °F."""
    found = cells(owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}?temperature=85").text)
    assert found["Open time"][:2] == ["10 min", "5 min, then 2 min until the clamps are tight"]


def test_clamps_by_kind_of_joint(owner: FlaskClient, db: Session, shop: Shop) -> None:
    page = owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}?temperature=55").text
    assert "<td>2 h</td><td>4 h</td>" in page  # a mitre
    assert "End grain drinks the glue" in page
    assert "Bent lamination</th><td>24 h</td><td>2 days" in page
    oil = of_family(db, shop, "pure tung oil")
    assert "by kind of joint" not in owner.get(f"/products/{oil.id}").text


def test_hours_too_cold_to_count_stand_still(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """TA07: oil at 40 °F does not dry at all; no 24 h are promised."""
    page = owner.get(f"/products/{of_family(db, shop, 'pure tung oil').id}?temperature=40").text
    assert cells(page)["Next layer"][1] == "it stands still, too cold to count"
    assert "40 °F is cold for it." in page


@pytest.mark.parametrize(
    ("typed", "message"), [("temperature=warm", 'href="#temperature"'), ("humidity=120", "From 0 to 100")]
)
def test_what_is_wrong_comes_back_with_the_page(
    owner: FlaskClient, db: Session, shop: Shop, typed: str, message: str
) -> None:
    answer = owner.get(f"/products/{seeded(db, shop, 'yellow PVA')}?{typed}")
    assert answer.status_code == 422
    assert message in answer.text
    assert f'value="{typed.partition("=")[2]}"' in answer.text
    assert "Out of clamps" in answer.text


def test_a_product_without_figures_says_what_would_stand_here(helper: FlaskClient, db: Session, shop: Shop) -> None:
    found = factories.product(db, shop, "mystery", stages=[])
    found.figures[0].data = {"stages": [], "recoat": []}
    db.commit()
    assert "With the times of its label it would stand here" in helper.get(f"/products/{found.id}").text


def test_its_queries_do_not_grow_with_readings(owner: FlaskClient, db: Session, shop: Shop) -> None:
    key = seeded(db, shop, "yellow PVA")
    before = queries(db.get_bind(), owner, f"/products/{key}")  # type: ignore[arg-type]
    db.add_all(Reading(shop_id=shop.id, at=START - timedelta(minutes=n), temperature=20.0) for n in range(50))
    db.commit()
    assert queries(db.get_bind(), owner, f"/products/{key}") <= before  # type: ignore[arg-type]
    assert before < 25


def test_a_shop_without_a_room_has_air_all_the_same(owner: FlaskClient, db: Session, shop: Shop) -> None:
    """A file that is put in may bring none."""
    key = seeded(db, shop, "yellow PVA")
    db.delete(shop.rooms[0])
    db.commit()
    assert "Now, in the shop" in owner.get(f"/products/{key}").text
