import pytest

from tests.trade.products.test_figures import plain
from webapp.trade.products.families import GLUES, FamilyError
from webapp.trade.products.joints import JOINTS, JointError, clamping


def test_every_glue_answers_for_every_joint_within_what_is_known() -> None:
    """The longer end is used; a glue that is wrong for a joint has no hours and says why."""
    for glue in GLUES:
        for joint in JOINTS:
            found = clamping(glue.name, joint)
            if found.hours is None:
                assert not found.known
                assert found.mind
                continue
            highs = [plain(figure.high, figure.unit) for figure in found.known if figure.high is not None]
            assert found.hours <= max(highs) + 1e-9, (glue.name, joint)
            assert found.known


def test_half_an_hour_of_pva_is_for_joints_that_bear_nothing() -> None:
    """A popular glue table and a label, both weak."""
    edge = clamping("yellow PVA", "edge")
    short = [figure for figure in edge.known if plain(figure.low or 0, figure.unit) == 0.5]
    assert edge.hours == 1
    assert len(short) == 2
    assert all("bear nothing" in figure.case for figure in short)


def test_hot_hide_glue_without_clamps_is_rubbed_and_epoxy_without_pressure_is_held_still() -> None:
    for glue, case in (("hot hide glue", "rubbed joints only"), ("epoxy", "held still it must be")):
        none = [figure for figure in clamping(glue, "edge").known if figure.high == 0]
        assert [case in figure.case for figure in none] == [True]
        assert (clamping(glue, "edge").hours or 0) >= 12


def test_a_bent_lamination_stays_on_the_form_overnight() -> None:
    for glue in ("yellow PVA", "UF powder glue", "PU glue", "slow epoxy"):
        bent, edge = clamping(glue, "bent lamination").hours, clamping(glue, "edge").hours
        assert bent is not None
        assert edge is not None
        assert bent >= max(edge, 12)
    assert "creeps" in clamping("white PVA", "bent lamination").mind


def test_veneer_in_urea_is_pressed_as_long_as_the_trade_says() -> None:
    """TA14: 8 h at 90 °F, 10 to 12 h at room temperature."""
    found = clamping("UF powder glue", "veneer")
    assert found.hours == 8
    assert "Both faces" in found.mind


def test_what_is_no_glue_or_no_joint_is_said() -> None:
    with pytest.raises(JointError, match="“shellac” is a finish"):
        clamping("shellac", "edge")
    with pytest.raises(JointError, match="no joint “weld” in the list"):
        clamping("PU glue", "weld")
    with pytest.raises(FamilyError):
        clamping("hot snot", "edge")
