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
