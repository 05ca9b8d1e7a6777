"""No figure without a source or the words, and every figure inside what its sources say."""

from collections.abc import Iterator
from datetime import date

import pytest

from webapp.trade.products import figures as names
from webapp.trade.products.families import FAMILIES
from webapp.trade.products.figures import Family, Figure, practice
from webapp.trade.sources import COMMON, HOW_KNOWN, PRACTICE, READ, Source

HOURS = {"s": 1 / 3600, "min": 1 / 60, "h": 1.0, "day": 24.0, "week": 168.0, "month": 730.0, "year": 8760.0}
SINGLE = {
    "rated_at": names.RATED_AT,
    "doubles_per": names.DOUBLES_PER,
    "faster_per": names.FASTER_PER,
    "lowest": names.LOWEST,
    "counts_above": names.COUNTS_ABOVE,
    "humidity_max": names.HUMIDITY,
    "dew_gap": names.DEW_GAP,
}


def plain(value: float, unit: str) -> float:
    """Hours, °C or %, as the products of the shop document have them."""
    if unit in HOURS:
        return value * HOURS[unit]
    if unit == "°F":
        return (value - 32) / 1.8
    return value / 1.8 if unit.startswith("°F ") else value


def used(one: Family) -> Iterator[tuple[str, float]]:
    """Every number of a family's product, in hours, °C or %, and what figures have to be there for it."""
    data = one.figures
    for key, of in SINGLE.items():
        if data[key] is not None:
            yield of, data[key]
    if data["lowest"] is not None:
        yield names.LOWEST_FOR, data["lowest_for_hours"]
    if data["open_minutes"] is not None:
        yield names.OPEN, data["open_minutes"] / 60
    if one.closed_minutes is not None:
        yield names.CLOSED, one.closed_minutes / 60
    yield from ((stage["name"], stage["hours"]) for stage in data["stages"])
    yield from ((tend["key"], tend["at_minutes"] / 60) for tend in data["tend"])
    yield from ((names.NEXT_COAT, window["from_hours"]) for window in data["recoat"])
    yield from (
        (f"{names.OVER}{layer}", window["from_hours"])
        for layer, windows in data["recoat_over"].items()
        for window in windows
    )


def span(figures: list[Figure]) -> tuple[float, float]:
    """From the lowest to the highest that anybody says."""
    lows = [plain(one.low, one.unit) if one.low is not None else 0.0 for one in figures]
    highs = [plain(one.high, one.unit) if one.high is not None else float("inf") for one in figures]
    return min(lows), max(highs)


@pytest.mark.parametrize("one", FAMILIES, ids=lambda one: one.name)
def test_every_figure_lies_in_what_its_sources_say(one: Family) -> None:
    for of, value in used(one):
        said = [figure for figure in one.known if figure.of == of and (figure.low, figure.high) != (None, None)]
        assert said, f"{of} {value} has neither a source nor the words"
        low, high = span(said)
        assert low - 0.01 <= value <= high + 0.01, f"{of}: {value} is not between {low} and {high}"


def test_every_figure_has_a_source_of_a_known_kind_and_a_page_is_named_or_described() -> None:
    for one in FAMILIES:
        assert one.known, one.name
        assert date.fromisoformat(one.source_date)
        for figure in one.known:
            assert figure.source.how in HOW_KNOWN
            assert (figure.source.how == COMMON) == (figure.source == PRACTICE)
            assert (figure.low, figure.high) != (None, None) or figure.case


def test_a_figure_for_a_special_case_says_so() -> None:
    """Epoxy without pressure, hide glue without clamps, half an hour of PVA: each for its case only."""
    cases = {
        "slow epoxy": (0, "held still it must be"),
        "hot hide glue": (0, "rubbed joints only"),
        "yellow PVA": (0.5, "joints that bear nothing yet"),
        "waterproof PVA": (0.5, "joints that bear nothing yet"),
    }
    for one in FAMILIES:
        for figure in one.known:
            short = figure.of == "out of clamps" and figure.low is not None and plain(figure.low, figure.unit) < 1
            if short and one.name in cases:
                low, case = cases.pop(one.name)
                assert plain(figure.low or 0, figure.unit) == low
                assert case in figure.case
    assert not cases


def test_the_text_kept_beside_a_product_names_each_source_once() -> None:
    for one in FAMILIES:
        text = one.source
        assert len(text) <= 2000, "longer than the field takes"
        assert text.endswith(".")
        for source in {figure.source for figure in one.known}:
            assert f": {source.name}." in text, one.name


def test_a_range_is_said_as_a_maker_reads_it() -> None:
    own = Source("a page", READ)
    assert practice("full cure", 7, 21, "day").says() == "full cure 7 to 21 days"
    assert Figure("next coat", None, 2, "h", own).says() == "next coat up to 2 h"
    assert Figure("next coat", 72, None, "h", own, "sanded").says() == "next coat from 72 h (sanded)"
    assert Figure("out of clamps", 0, 0, "h", own, "rubbed").says() == "out of clamps none (rubbed)"
    assert Figure("next coat", None, None, "", own, "overnight").says() == "next coat (overnight)"
    assert Figure("ready to plane", 1, 1, "day", own).says() == "ready to plane 1 day"
