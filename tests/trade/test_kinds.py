"""Kinds of operation and their defaults: the table of the shop document."""

import pytest

from webapp.trade.cautions.work import CAUTIONS
from webapp.trade.kinds import INSERTED, KINDS, inserted, kind

SPLIT_AND_DUSTY = (
    "break down, rough mill, final mill, mill, resaw, cut, joinery, groove, mortise, dovetail, rabbet, "
    "shape, turn, carve, level, sand"
)
NEITHER = "glue-up, veneer, bend, stain, coat, pack, deliver"
SPLIT_ONLY = "rest, mark out, dry fit, fit doors, fit drawers, fit hardware, rub out, design, fetch, sharpen the moon"


@pytest.mark.parametrize(
    ("names", "split", "dusty"),
    [(SPLIT_AND_DUSTY, True, True), (NEITHER, False, False), (SPLIT_ONLY, True, False)],
)
def test_each_kind_has_the_defaults_of_its_row(names: str, split: bool, dusty: bool) -> None:
    assert [(kind(name).split, kind(name).dusty) for name in names.split(", ")] == [(split, dusty)] * len(
        names.split(", ")
    )


def test_every_kind_of_the_table_is_listed_once() -> None:
    listed = f"{SPLIT_AND_DUSTY}, {NEITHER}, {SPLIT_ONLY}".split(", ")[:-1]
    assert sorted(one.name for one in KINDS) == sorted(listed)


def test_a_wait_follows_glue_finish_and_rest_only() -> None:
    assert {one.name for one in KINDS if one.waits} == {"rest", "bend", "veneer", "glue-up", "stain", "coat"}


def test_every_kind_has_an_estimate_to_begin_with_and_any_other_word_an_hour() -> None:
    """Common practice, no source."""
    for one in KINDS:
        assert 0 < one.minutes.low <= one.minutes.likely <= one.minutes.high
    assert kind("sharpen the moon").minutes == (30, 60, 120)
    assert kind("glue-up").minutes.likely == 40


def test_every_caution_of_a_kind_is_one_and_every_dusty_kind_warns_of_dust() -> None:
    keys = {one.key for one in CAUTIONS}
    assert all(set(one.cautions) <= keys for one in KINDS)
    assert all(("dust" in one.cautions) == one.dusty for one in KINDS)
    assert kind("sharpen the moon").cautions == ()


def test_inserted_work_is_never_split_and_only_sanding_is_dusty() -> None:
    assert dict(INSERTED) == {"sand": 30, "wash": 15, "scuff": 15}
    assert [(inserted(name)[0].split, inserted(name)[0].dusty) for name in INSERTED] == [
        (False, True),
        (False, False),
        (False, False),
    ]
    assert [inserted(name)[0].minutes.likely for name in ("sand", "wash", "polish")] == [30, 15, 15]
