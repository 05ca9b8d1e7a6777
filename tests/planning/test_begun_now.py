"""What figures mean now: where a rule is known for the cold, where none is, and where the air forbids the work."""

from webapp.planning.begun_now import BegunNow, Sure, begun_now, joints_now
from webapp.trade.air.climate import History
from webapp.trade.air.warmth import WARM_ENOUGH
from webapp.trade.products.families import family
from webapp.trade.products.joints import clampings


def begun(name: str, celsius: float, humidity: float | None = None) -> BegunNow:
    return begun_now(family(name).figures, History.constant(celsius, humidity), 0)


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def stages(found: BegunNow) -> dict[str, Sure]:
    return {told.name: told.sure for told in found.stages}


def windows(found: BegunNow) -> set[Sure]:
    return {window.opens.sure for window in found.windows}


def test_a_cold_damp_shop_makes_a_waterborne_label_worth_nothing() -> None:
    """TA10: at 58 °F and 85 % the label's hours do not hold; warm to 65 °F and up."""
    damp = begun("waterborne polyurethane", celsius(58), 85)
    assert (damp.humid, damp.is_cold, windows(damp)) == (85, True, {Sure.NEVER})
    dry = begun("waterborne polyurethane", celsius(58), 50)
    assert (dry.humid, dry.is_cold, windows(dry)) == (None, True, {Sure.LONGER})
    assert stages(dry)["dust free"] is Sure.LONGER
    warm = begun("waterborne polyurethane", WARM_ENOUGH, 50)
    assert (warm.humid, warm.is_cold, windows(warm)) == (None, False, {Sure.KNOWN})


def test_an_oil_stain_in_a_cool_shop_is_doubted() -> None:
    """TA06: 4 to 6 h are for a warm shop; at 55 °F it takes more, and a test before sealing."""
    found = begun("oil stain", celsius(55))
    assert (found.is_cold, windows(found)) == (True, {Sure.LONGER})


def test_a_glue_with_a_rule_is_reckoned_and_not_doubted() -> None:
    """TA01: 55 °F doubles it. TA03: water leaves the wood by no rule that is known."""
    found = begun("yellow PVA", celsius(55))
    assert not found.is_cold
    assert stages(found) == {
        "out of clamps": Sure.KNOWN, "full strength": Sure.KNOWN, "ready to plane": Sure.LONGER,
    }  # fmt: skip


def test_clamps_have_no_time_in_air_that_bars_the_work() -> None:
    """Too damp bars a joint as too cold does: the page gives no hours beside “not now”."""
    figures = {**family("yellow PVA").figures, "humidity_max": 65}
    for air, is_barred in ((History.constant(21, 70), True), (History.constant(21, 60), False)):
        found = joints_now(clampings("yellow PVA"), figures, air, 0)
        assert {one.told.end is None for one in found if one.told} == {is_barred}
