from datetime import date
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from tests.reference.read import rows
from webapp.planning.schema import PRODUCT
from webapp.trade import families
from webapp.trade.families import FAMILIES, FINISH, FINISHES, GLUE, GLUES, Family, FamilyError, family

WATER_BASED = [
    "yellow PVA", "water-resistant PVA", "waterproof PVA", "white PVA", "liquid hide glue", "hot hide glue",
    "UF powder glue",
]  # fmt: skip


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def stage(name: str, of: str) -> dict[str, Any]:
    return next(one for one in family(name).figures["stages"] if one["name"] == of)


def hours_at(name: str, of: str, fahrenheit: float) -> float:
    """Rule 3 of the shop document at a temperature that stands still, warmer too where the product says so."""
    figures = family(name).figures
    colder = figures["rated_at"] - celsius(fahrenheit)
    per = figures["doubles_per"]
    if colder < 0:
        per = (figures["faster_per"] or per) if figures["faster_when_warm"] else None
    return stage(name, of)["hours"] * (2 ** (colder / per) if per else 1)


def first_window(name: str) -> float:
    return family(name).figures["recoat"][0]["from_hours"]


@pytest.mark.parametrize("one", FAMILIES, ids=lambda one: one.name)
def test_each_family_is_a_product_of_the_shop_document(one: Family) -> None:
    """Checked against the document's own schema, with every key said."""
    product = one.as_product()
    assert [fault.message for fault in Draft202012Validator(PRODUCT).iter_errors(product)] == []
    assert set(product) == set(PRODUCT["properties"])


@pytest.mark.parametrize("one", FAMILIES, ids=lambda one: one.name)
def test_what_a_family_refers_to_is_there(one: Family) -> None:
    names = [stage["name"] for stage in one.figures["stages"]]
    assert len(names) == len(set(names))
    assert one.figures["dust_free"] in (None, *names)
    assert set(one.figures["recoat_over"]) <= {other.family for other in FAMILIES}
    for windows in (one.figures["recoat"], *one.figures["recoat_over"].values()):
        ends = [moment for window in windows for moment in (window["from_hours"], window.get("to_hours"))]
        assert None not in ends[:-1]
        assert [end for end in ends if end is not None] == sorted(end for end in ends if end is not None)


@pytest.mark.parametrize("one", FAMILIES, ids=lambda one: one.name)
def test_each_family_says_where_its_figures_come_from(one: Family) -> None:
    assert any(word in one.source for word in ("common practice", "from memory", ".com", "manual", "Army"))
    assert date.fromisoformat(one.source_date)


def test_the_families_of_the_trade_are_there_once() -> None:
    names = [one.name for one in FAMILIES]
    assert len(names) == len(set(names)) == 23
    assert {one.use for one in GLUES} == {GLUE}
    assert {one.use for one in FINISHES} == {FINISH}
    with pytest.raises(FamilyError, match="no family “superglue”"):
        family("superglue")


def test_a_copy_may_be_changed_without_changing_the_family() -> None:
    family("yellow PVA").data()["stages"][0]["hours"] = 99
    family("yellow PVA").as_product()["tend"].clear()
    assert stage("yellow PVA", "out of clamps")["hours"] == 1
    assert family("yellow PVA").figures["tend"]


def test_every_glue_says_when_it_leaves_the_clamps_when_it_is_planed_and_when_it_is_strong() -> None:
    for glue in GLUES:
        assert {one["name"] for one in glue.figures["stages"]} == {"out of clamps", "ready to plane", "full strength"}
        assert glue.figures["open_minutes"]


def test_every_film_and_oil_says_when_it_may_be_used_and_when_it_is_cured() -> None:
    for finish in FINISHES:
        if finish.family not in ("stain", "dye"):
            names = [one["name"] for one in finish.figures["stages"]]
            assert names[-2:] == ["light use", "full cure"]
        assert finish.figures["recoat"]


def test_yellow_pva_takes_twice_as_long_at_55_f() -> None:
    """TA01: 1 h and 24 h at 70 °F are 2 h and 48 h at 55 °F."""
    assert hours_at("yellow PVA", "out of clamps", 70) == pytest.approx(1, abs=1e-4)
    assert hours_at("yellow PVA", "out of clamps", 55) == pytest.approx(2, abs=1e-4)
    assert hours_at("yellow PVA", "full strength", 55) == pytest.approx(48, abs=1e-2)
    assert hours_at("yellow PVA", "out of clamps", 85) == 1


@pytest.mark.parametrize(
    ("name", "fahrenheit"), [("yellow PVA", 50), ("water-resistant PVA", 55), ("waterproof PVA", 47), ("PU glue", 40)]
)
def test_each_glue_has_a_lowest_temperature(name: str, fahrenheit: float) -> None:
    """TA02: held for 24 h; the limit itself is still warm enough."""
    lowest = family(name).figures["lowest"]
    assert celsius(fahrenheit) - 0.01 < lowest <= celsius(fahrenheit)
    assert family(name).figures["lowest_for_hours"] == 24


@pytest.mark.parametrize("name", WATER_BASED)
def test_a_water_based_joint_rests_a_week_whatever_the_temperature(name: str) -> None:
    """TA03: 168 h before planing; water leaving the wood does not follow the glue's rule."""
    assert stage(name, "ready to plane") == {"name": "ready to plane", "hours": 168, "doubles_per": None}


def test_an_18_minute_glue_up_needs_a_slower_glue_than_yellow_pva() -> None:
    """TA04: yellow 10, waterproof 15, white, hide and PU 20 min."""
    open_minutes = {one.name: one.figures["open_minutes"] for one in GLUES}
    assert open_minutes["yellow PVA"] == 10
    assert open_minutes["waterproof PVA"] == 15
    assert {open_minutes[name] for name in ("white PVA", "liquid hide glue", "PU glue")} == {20}


def test_a_film_over_oil_or_stain_waits_longer_than_over_itself() -> None:
    """TA06: lacquer over an oil glaze wrinkled after about 24 h; a gel stain takes up to 72 h."""
    lacquer = family("lacquer").figures
    assert lacquer["recoat_over"]["oil"][0]["from_hours"] > 24 > lacquer["recoat"][0]["from_hours"]
    assert first_window("oil stain") >= 8
    assert first_window("gel stain") == 72
    assert family("oil stain").figures["doubles_per"]


def test_oil_is_wiped_and_looked_at_again_and_does_not_dry_in_the_cold() -> None:
    """TA07: about two weeks when warm, no hour under 50 °F counts, damp air warns."""
    for name in ("boiled linseed oil", "wiping oil", "pure tung oil"):
        figures = family(name).figures
        assert [(tend["key"], tend["at_minutes"]) for tend in figures["tend"]] == [("wipe", 20), ("look", 60)]
        assert figures["counts_above"] == 10
        assert 50 <= figures["humidity_max"] <= 70
    assert stage("pure tung oil", "light use")["hours"] == 14 * 24


def test_pva_squeeze_out_is_scraped_at_half_an_hour() -> None:
    """Common practice, no source."""
    for glue in GLUES:
        if glue.family == "pva":
            assert [(tend["key"], tend["at_minutes"]) for tend in glue.figures["tend"]] == [("scrape", 30)]


def test_lacquer_and_shellac_have_both_rules_for_damp_air() -> None:
    """TA10: 65 % and a dew point gap of 20 °F."""
    for name in ("lacquer", "shellac"):
        assert family(name).figures["humidity_max"] == 65
        assert family(name).figures["dew_gap"] * 1.8 == pytest.approx(20, abs=1e-3)


def test_a_waterborne_coat_takes_longer_in_a_cold_shop() -> None:
    """TA10: at 58 °F and 85 % the label's hours do not hold."""
    assert hours_at("waterborne finish", "dust free", 58) > 1.5
    assert family("waterborne finish").figures["humidity_max"] < 85


def test_warmth_shortens_urea_glue() -> None:
    """TA14: 10 to 12 h at room temperature, about 8 h at 90 °F, halved per 10 °F above that: 2 h at 110 °F."""
    for fahrenheit, hours in ((70, 12), (90, 8), (100, 4), (110, 2)):
        assert hours_at("UF powder glue", "out of clamps", fahrenheit) == pytest.approx(hours, abs=0.01)
    assert hours_at("UF powder glue", "full strength", 70) == pytest.approx(24, abs=0.01)


def test_cured_epoxy_is_washed_and_then_sanded_before_the_next_coat() -> None:
    """TA15: nothing while tacky (3 h), wash before sand next day (23 h)."""
    tacky, cured = family("slow epoxy").figures["recoat"]
    assert tacky["from_hours"] <= 3 <= tacky["to_hours"]
    assert "needs" not in tacky
    assert tacky["to_hours"] < cured["from_hours"] <= 23
    assert cured["needs"] == ["wash", "sand"]


ADHESIVES = {
    ("PVA (white, vinyl resin)", "clamp time", "min"): ("white PVA", "out of clamps"),
    ("aliphatic resin / yellow PVA", "full cure", "h"): ("yellow PVA", "full strength"),
    ("cross-linking PVA", "clamp time", "min"): ("water-resistant PVA", "out of clamps"),
    ("liquid hide glue", "clamp time (longer in high humidity)", "h"): ("liquid hide glue", "out of clamps"),
    ("epoxy", "handling strength", "h"): ("slow epoxy", "out of clamps"),
    ("epoxy", "full cure", "day"): ("slow epoxy", "full strength"),
    ("polyurethane, one part (moisture curing)", "clamp time", "h"): ("PU glue", "out of clamps"),
    ("polyurethane, one part (moisture curing)", "full cure", "h"): ("PU glue", "full strength"),
    ("any waterborne glue, edge joint", "wait before planing or sanding", "day"): ("yellow PVA", "ready to plane"),
}
FINISHED = {
    ("shellac", "touch/handle"): ("shellac", "dust free"),
    ("shellac", "recoat"): ("shellac", None),
    ("shellac", "full hardness"): ("shellac", "light use"),
    ("oil varnish (traditional)", "dry"): ("wiping varnish", "dust free"),
    ("oil-based polyurethane", "touch-dry"): ("oil-based polyurethane varnish", "dust free"),
    ("oil-based polyurethane", "recoat"): ("oil-based polyurethane varnish", None),
    ("oil-based polyurethane", "full cure"): ("oil-based polyurethane varnish", "full cure"),
    ("waterborne polyurethane", "touch-dry"): ("waterborne finish", "dust free"),
    ("waterborne polyurethane", "recoat"): ("waterborne finish", None),
    ("waterborne polyurethane", "full cure"): ("waterborne finish", "full cure"),
    ("drying oil (boiled linseed)", "recoat"): ("boiled linseed oil", None),
    ("drying oil (boiled linseed)", "full cure"): ("boiled linseed oil", "full cure"),
    ("oil-varnish blend", "recoat"): ("wiping oil", None),
    ("oil-varnish blend", "full cure"): ("wiping oil", "full cure"),
    ("hardwax oil", "recoat"): ("hardwax oil", None),
    ("hardwax oil", "full cure"): ("hardwax oil", "full cure"),
    ("nitrocellulose lacquer", "touch-dry"): ("lacquer", "dust free"),
    ("nitrocellulose lacquer", "recoat"): ("lacquer", None),
    ("nitrocellulose lacquer", "full cure"): ("lacquer", "full cure"),
}
HOURS = {"min": 1 / 60, "h": 1, "day": 24}


def test_glue_waits_are_the_longer_end_of_the_table() -> None:
    """Source: the table says of each row how it is known (adhesive_times.csv)."""
    seen = set()
    for row in rows("adhesive_times.csv"):
        if at := ADHESIVES.get(key := (row["adhesive_family"], row["quantity"], row["unit"])):
            assert stage(*at)["hours"] == pytest.approx(float(row["high"]) * HOURS[row["unit"]])
            seen.add(key)
    assert seen == set(ADHESIVES)


def test_finish_waits_are_the_longer_end_of_the_table() -> None:
    """Source: shellac from an Army manual, the rest weak or common practice (finish_times.csv)."""
    seen = set()
    for row in rows("finish_times.csv"):
        if at := FINISHED.get(key := (row["finish_family"], row["quantity"])):
            name, of = at
            ours = stage(name, of)["hours"] if of else first_window(name)
            assert ours == pytest.approx(float(row["high"]) * HOURS[row["unit"]])
            seen.add(key)
    assert seen == set(FINISHED)


def test_the_stages_are_called_what_the_screen_says() -> None:
    said = {one["name"] for each in FAMILIES for one in each.figures["stages"]}
    assert said == {
        families.OUT_OF_CLAMPS, families.READY_TO_PLANE, families.FULL_STRENGTH,
        families.DUST_FREE, families.LIGHT_USE, families.FULL_CURE,
    }  # fmt: skip
