import pytest

from webapp.trade.families import family
from webapp.trade.warmth import NO_RULE, WARM_ENOUGH, Rule, StageError, doubts, rules


def test_each_stage_has_a_rule_of_its_own() -> None:
    """TA03: the glue sets slower in the cold by a rule, the water leaves the wood by none that is known."""
    assert [(rule.stage, rule.doubles_per) for rule in rules(family("yellow PVA").figures)] == [
        ("out of clamps", 8.3333), ("full strength", 8.3333), ("ready to plane", None),
    ]  # fmt: skip
    assert Rule("dust free", None).says == NO_RULE == "no known rule: test it"


def test_a_cold_damp_shop_makes_a_waterborne_label_worth_nothing() -> None:
    """TA10: at 58 °F and 85 % the label's hours do not hold; warm to 65 °F and up."""
    figures = family("waterborne polyurethane").figures
    assert doubts(figures, None, (58 - 32) / 1.8, 85) == ("cold", "damp")
    assert doubts(figures, "dust free", (58 - 32) / 1.8, 50) == ("cold",)
    assert doubts(figures, None, WARM_ENOUGH, 50) == ()
    assert pytest.approx(65, abs=0.001) == WARM_ENOUGH * 1.8 + 32


def test_an_oil_stain_in_a_cool_shop_is_doubted() -> None:
    """TA06: 4 to 6 h are for a warm shop; at 55 °F it takes more, and a test before sealing."""
    assert doubts(family("oil stain").figures, None, (55 - 32) / 1.8) == ("cold",)


def test_a_glue_with_a_rule_is_reckoned_and_not_doubted() -> None:
    """TA01: 55 °F doubles it."""
    assert doubts(family("yellow PVA").figures, "out of clamps", (55 - 32) / 1.8) == ()
    assert doubts(family("yellow PVA").figures, "ready to plane", (55 - 32) / 1.8) == ("cold",)


def test_a_stage_that_is_not_there_is_said() -> None:
    with pytest.raises(StageError, match="no stage “machine”"):
        doubts(family("yellow PVA").figures, "machine", 20)
