from decimal import Decimal

import pytest

from tests.reference.read import rows
from webapp.trade.lengths import NANOMETRES
from webapp.trade.sizes.fit_classes import KINDS, SOURCE, FitError, classes


def test_the_limits_of_each_kind_rise_and_the_last_has_none() -> None:
    """Common practice, no source: only their order is checked, and that each says what to do."""
    assert SOURCE == "common practice, no source"
    for kind, found in KINDS.items():
        limits = [one.under for one in found]
        assert limits[-1] is None, kind
        assert sorted(set(limits[:-1])) == limits[:-1], kind
        assert len({one.name for one in found}) == len(found), kind
        assert found[0].name == "does not go in", kind
        assert all(one.advice.endswith(".") for one in found), kind


def test_an_easy_tenon_leaves_glue_lines_a_handbook_still_calls_strong() -> None:
    """Source: Wood Handbook ch. 10, 0.08 to 0.15 mm a glue line (handbook_facts.csv, read; its inches are wrong)."""
    row = next(row for row in rows("handbook_facts.csv") if row["item"].startswith("strongest bondline"))
    assert row["how_known"] == "read"
    assert row["value"].startswith("0.08 to 0.15 mm")
    easy = next(one for one in KINDS["tenon in mortise"] if one.name == "easy")
    assert easy.under == 2 * Decimal("0.15") * NANOMETRES["mm"]


def test_a_shop_has_limits_of_its_own() -> None:
    own = classes("pin in hole", [0, 50_000, 250_000])
    assert [one.under for one in own] == [0, 50_000, 250_000, None]
    assert [one.name for one in own] == [one.name for one in KINDS["pin in hole"]]


@pytest.mark.parametrize(
    ("kind", "limits", "says"),
    [
        ("lid on box", None, "“lid on box” is no fit that is known here. It is one of tenon in mortise"),
        ("pin in hole", [0, 1], "Give 3 limits, one for each but “loose”"),
        ("pin in hole", [0, 1, 2, 3], "Give 3 limits"),
        ("pin in hole", [0, 2, 1], "above the one before"),
        ("pin in hole", [0, 0, 1], "above the one before"),
    ],
)
def test_limits_that_make_no_sense_are_refused(kind: str, limits: list[int] | None, says: str) -> None:
    with pytest.raises(FitError, match=says):
        classes(kind, limits)
