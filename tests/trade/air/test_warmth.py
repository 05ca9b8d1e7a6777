import pytest

from webapp.trade.air.warmth import WARM_ENOUGH, is_cold


def test_warm_enough_is_65_f_and_up() -> None:
    """TA10: a woodworking magazine on working around the weather."""
    assert pytest.approx(65, abs=0.001) == WARM_ENOUGH * 1.8 + 32
    assert not is_cold(WARM_ENOUGH)
    assert is_cold(WARM_ENOUGH - 0.001)
