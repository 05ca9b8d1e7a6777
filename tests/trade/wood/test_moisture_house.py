import re

import pytest

from tests.reference.read import rows
from webapp.trade.wood.moisture import MoistureError, equilibrium
from webapp.trade.wood.moisture_house import FURNITURE, GLUING, INDOORS, OUTDOORS, TARGETS, house, off_target, target

FACTS = {row["item"]: row for row in rows("handbook_facts.csv")}


def fact(beginning: str) -> dict[str, str]:
    return next(row for item, row in FACTS.items() if item.startswith(beginning))


def figures(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", text)]


def test_furniture_lumber_is_as_the_handbook_says() -> None:
    """handbook_facts.csv, ch. 13, read."""
    row = fact("furniture/cabinet/millwork")
    assert row["how_known"] == FURNITURE.how == "read"
    assert figures(row["value"]) == [FURNITURE.low, FURNITURE.high]


def test_the_regions_are_as_recalled() -> None:
    """handbook_facts.csv, Table 13-2 and ch. 10: from memory, and each target says so."""
    indoors = [row for item, row in FACTS.items() if item.startswith("interior wood at installation")]
    assert [figures(row["value"]) for row in indoors] == [[one.average, one.low, one.high] for one in INDOORS]
    outdoors = figures(fact("exterior siding")["value"])
    assert outdoors == [number for one in OUTDOORS for number in (one.average, one.low, one.high)]
    assert figures(fact("MC of furniture lumber at bonding")["value"]) == [GLUING.low, GLUING.high]
    for row in (*indoors, fact("exterior siding"), fact("MC of furniture")):
        assert row["how_known"] == "memory"
    assert {one.how for one in (GLUING, *INDOORS, *OUTDOORS)} == {"memory"}


def test_each_place_is_found_by_its_name_and_has_a_source() -> None:
    assert [target(one.place) for one in TARGETS] == list(TARGETS)
    assert all(one.low < one.high and one.source for one in TARGETS)
    assert target("Mars") is None


def test_a_hygrometer_says_more_than_a_region() -> None:
    """Between the moistures of the two seasons, the middle for its average (Forest Products Laboratory report 1655)."""
    found = house((21, 30), (24, 60), "C")
    assert (found.low, found.high) == (equilibrium(21, 30, "C"), equilibrium(24, 60, "C"))
    assert found.average == (found.low + found.high) / 2
    assert found.how == "measured"
    with pytest.raises(MoistureError, match="Change the two round"):
        house((24, 60), (21, 30), "C")


def test_off_target_says_which_way() -> None:
    assert off_target(9.1, FURNITURE) == 1.1
    assert off_target(5.9, FURNITURE) == -0.1
    assert off_target(8, FURNITURE) == off_target(6, FURNITURE) == 0
    assert FURNITURE.holds(8)
    assert not FURNITURE.holds(8.1)
    with pytest.raises(MoistureError, match="0 to 100"):
        off_target(-1, FURNITURE)
