from flask.testing import FlaskClient
from sqlalchemy.orm import Session

from tests import factories
from tests.builds import typed
from webapp.shops.models import Shop


def test_a_frame_closed_round_a_bare_panel_is_said_on_both_pages(helper: FlaskClient, db: Session, shop: Shop) -> None:
    """TA13: said quietly, and nothing is in the way."""
    build = factories.build(db, shop)
    edge = factories.operation(db, build, "glue-up", name="Glue up the panel", group="door")
    close = factories.operation(
        db, build, "close", name="Glue up the frame", kind="glue-up", group="door", after=[edge]
    )
    oil = factories.operation(db, build, "coat", name="Oil the panel", group="door", after=[edge])
    says = "“Glue up the frame” puts the frame round its panel before the panel is finished"
    for page in (f"/builds/{build.id}", f"/builds/{build.id}/order"):
        assert says in typed.text(helper.get(page))
        assert f'href="#operation-{close.id}"' in helper.get(page).text
    helper.post(f"/operations/{oil.id}/place", data={"before": str(close.id)})
    for page in (f"/builds/{build.id}", f"/builds/{build.id}/order"):
        assert says not in typed.text(helper.get(page))


def test_a_rest_after_the_press_is_suggested_until_there_is_one(helper: FlaskClient, db: Session, shop: Shop) -> None:
    """TA14: (d) cut to size the moment the press opens: 24 h of rest first; contact cement has no press."""
    urea = factories.product(db, shop, "UF powder glue")
    cement = factories.product(db, shop, "contact cement")
    build = factories.build(db, shop, "Panels")
    press = factories.operation(db, build, "veneer", name="Press the panels", product_id=urea.id)
    cut = factories.operation(db, build, "cut", name="Cut them to size", kind="cut", after=[(press, "out of clamps")])
    says = "“Cut them to size” comes as soon as the press opens. Let the panels rest for 24 h first, stickered"
    for page in (f"/builds/{build.id}", f"/builds/{build.id}/order"):
        assert says in typed.text(helper.get(page))
    press.product_id = cement.id
    db.commit()
    assert says not in typed.text(helper.get(f"/builds/{build.id}"))
    press.product_id = urea.id
    cut.after[0].lag_minutes = 24 * 60
    db.commit()
    assert says not in typed.text(helper.get(f"/builds/{build.id}"))
