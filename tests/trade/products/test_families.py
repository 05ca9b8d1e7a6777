from typing import Any

import pytest
from jsonschema import Draft202012Validator

from webapp.planning.reading import product
from webapp.planning.schema import PRODUCT
from webapp.trade.products import families
from webapp.trade.products.families import (
    FAMILIES,
    FINISH,
    FINISHES,
    GLUE,
    GLUES,
    USUAL,
    Family,
    FamilyError,
    families_of,
    family,
)
from webapp.trade.waits.cure import Rule, paced

WATER_BASED = [
    "yellow PVA", "water-resistant PVA", "waterproof PVA", "white PVA", "liquid hide glue", "hot hide glue",
    "UF powder glue",
]  # fmt: skip
WANTED = [
    # glues
    "white PVA", "yellow PVA", "water-resistant PVA", "waterproof PVA", "liquid hide glue", "hot hide glue",
    "UF powder glue", "PU glue", "epoxy", "contact cement", "CA glue",
    # finishes
    "boiled linseed oil", "raw linseed oil", "pure tung oil", "hardwax oil", "oil-varnish blend", "wiping varnish",
    "brushing varnish", "oil-based polyurethane varnish", "waterborne polyurethane", "shellac",
    "dewaxed shellac sealer", "nitro", "pre-catalysed lacquer", "conversion lacquer", "two-part polyurethane",
    "wax", "soap", "milk paint",
    "oil paint", "oil stain", "water stain", "water dye", "alcohol dye", "gel stain", "grain filler",
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


def rules(one: Family) -> dict[str, Rule]:
    """What is known of each stage in the cold."""
    figured = product({"name": one.name, **one.figures})
    return {stage.name: stage.rule for stage in paced(figured.stages, pace=figured.pace)}


def first_window(name: str) -> float:
    return family(name).figures["recoat"][0]["from_hours"]


def test_each_family_is_a_product_of_the_shop_document() -> None:
    """Checked against the document's own schema, with every key said."""
    schema = Draft202012Validator(PRODUCT)
    for one in FAMILIES:
        product = {"name": one.name, "family": one.family, **one.data()}
        assert [f"{one.name}: {fault.message}" for fault in schema.iter_errors(product)] == []
        assert set(product) == set(PRODUCT["properties"])


def test_what_a_family_refers_to_is_there() -> None:
    """Windows over other layers name only families that a new shop has."""
    begun_with = {other.family for other in USUAL}
    for one in FAMILIES:
        names = [stage["name"] for stage in one.figures["stages"]]
        assert len(names) == len(set(names))
        assert one.figures["dust_free"] in (None, *names)
        assert set(one.figures["recoat_over"]) <= begun_with
        for windows in (one.figures["recoat"], *one.figures["recoat_over"].values()):
            ends = [moment for window in windows for moment in (window["from_hours"], window.get("to_hours"))]
            assert None not in ends[:-1]
            assert [end for end in ends if end is not None] == sorted(end for end in ends if end is not None)


def test_the_families_of_the_trade_are_there_once_and_answer_to_their_other_names() -> None:
    names = [name for one in FAMILIES for name in (one.name, *one.also)]
    assert len(names) == len(set(names))
    assert {one.use for one in GLUES} == {GLUE}
    assert {one.use for one in FINISHES} == {FINISH}
    found = [family(name) for name in WANTED]
    assert len(set(map(id, found))) == len(WANTED)
    assert len(USUAL) == 23
    with pytest.raises(FamilyError, match="no family “hot snot”"):
        family("hot snot")


def test_what_a_shop_was_begun_with_before_is_still_known() -> None:
    """Names that older shops have in their rows."""
    assert [family(name).name for name in ("wiping oil", "waterborne finish", "lacquer", "dye")] == [
        "oil-varnish blend", "waterborne polyurethane", "nitrocellulose lacquer", "water dye",
    ]  # fmt: skip


def test_a_shops_own_product_is_known_by_its_family() -> None:
    assert [one.name for one in families_of("yellow PVA", "pva")] == ["yellow PVA"]
    assert len(families_of("our own glue", "pva")) == 4
    assert next(one.name for one in families_of("yellow PVA", "oil")) == "boiled linseed oil"
    assert [one.name for one in families_of("mixed by us", "hot hide glue")] == ["hot hide glue"]
    assert families_of("mystery", "mystery") == ()


def test_a_copy_may_be_changed_without_changing_the_family() -> None:
    family("yellow PVA").data()["stages"][0]["hours"] = 99
    family("yellow PVA").data()["tend"].clear()
    assert stage("yellow PVA", "out of clamps")["hours"] == 1
    assert family("yellow PVA").figures["tend"]


def test_every_glue_says_how_long_it_is_open_and_closed_and_when_it_is_strong() -> None:
    for glue in GLUES:
        names = {one["name"] for one in glue.figures["stages"]}
        held = {"out of clamps", "ready to plane"}
        assert names == {"full strength"} | (held if glue.family not in ("contact cement", "ca") else names & held)
        assert glue.figures["open_minutes"]
        assert glue.closed_minutes is not None


def test_every_film_and_oil_says_when_it_may_be_used_and_when_it_is_cured() -> None:
    for finish in FINISHES:
        if finish.family not in ("stain", "water stain", "dye", "filler"):
            names = [one["name"] for one in finish.figures["stages"]]
            assert names[-2:] == ["light use", "full cure"], finish.name
            assert finish.figures["stages"][-2]["hours"] < finish.figures["stages"][-1]["hours"]
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
    """TA06: lacquer over an oil glaze wrinkled after about 24 h; oil stain 8 to 24 h, gel stain to 72 h."""
    lacquer = family("nitrocellulose lacquer").figures
    assert lacquer["recoat_over"]["oil"][0]["from_hours"] > 24 > lacquer["recoat"][0]["from_hours"]
    assert first_window("oil stain") == 24
    assert first_window("gel stain") == 72


def test_oil_is_wiped_and_looked_at_again_and_does_not_dry_in_the_cold() -> None:
    """TA07: about two weeks when warm, no hour under 50 °F counts, damp air warns."""
    for name in ("boiled linseed oil", "raw linseed oil", "oil-varnish blend", "pure tung oil"):
        figures = family(name).figures
        assert [(tend["key"], tend["at_minutes"]) for tend in figures["tend"]] == [("wipe", 20), ("look", 60)]
        assert figures["counts_above"] == 10
        assert 50 <= figures["humidity_max"] <= 70
    assert stage("pure tung oil", "light use")["hours"] == 14 * 24


def test_a_varnished_table_is_used_lightly_long_before_it_is_cured() -> None:
    """TA09: about 30 days to full hardness; light use after days."""
    assert stage("brushing varnish", "full cure")["hours"] == 30 * 24
    assert stage("brushing varnish", "light use")["hours"] < 7 * 24


def test_pva_squeeze_out_is_scraped_at_half_an_hour() -> None:
    """Common practice, no source."""
    for glue in GLUES:
        if glue.family == "pva":
            assert [(tend["key"], tend["at_minutes"]) for tend in glue.figures["tend"]] == [("scrape", 30)]


def test_lacquer_and_shellac_have_both_rules_for_damp_air() -> None:
    """TA10: 65 % and a dew point gap of 20 °F."""
    for name in ("nitrocellulose lacquer", "pre-catalysed lacquer", "shellac", "dewaxed shellac sealer"):
        assert family(name).figures["humidity_max"] == 65
        assert family(name).figures["dew_gap"] * 1.8 == pytest.approx(20, abs=1e-3)


def test_only_glues_that_set_by_reaction_or_drying_out_double_in_the_cold() -> None:
    """Water in a glue line, oil, varnish and waterborne film follow no known rule: that is said, not reckoned."""
    doubling = {one.name for one in FAMILIES if Rule.DOUBLES in rules(one).values()}
    assert doubling == {
        "yellow PVA", "water-resistant PVA", "waterproof PVA", "white PVA", "UF powder glue", "slow epoxy",
    }  # fmt: skip
    assert {rule for one in FINISHES for rule in rules(one).values()} == {Rule.UNKNOWN}
    assert rules(family("yellow PVA"))["ready to plane"] == "no known rule: test it"


def test_warmth_shortens_urea_glue() -> None:
    """TA14: 10 to 12 h at room temperature, about 8 h at 90 °F, halved per 10 °F above that: 2 h at 110 °F."""
    for fahrenheit, hours in ((70, 12), (90, 8), (100, 4), (110, 2)):
        assert hours_at("UF powder glue", "out of clamps", fahrenheit) == pytest.approx(hours, abs=0.01)
    assert hours_at("UF powder glue", "full strength", 70) == pytest.approx(24, abs=0.01)


def test_cured_epoxy_is_washed_and_then_sanded_before_the_next_coat() -> None:
    """TA15: nothing while tacky (3 h), wash before sand next day (23 h)."""
    tacky, cured = family("epoxy").figures["recoat"]
    assert tacky["from_hours"] <= 3 <= tacky["to_hours"]
    assert "needs" not in tacky
    assert tacky["to_hours"] < cured["from_hours"] <= 23
    assert cured["needs"] == ["wash", "sand"]


def test_the_stages_are_called_what_the_screen_says() -> None:
    said = {one["name"] for each in FAMILIES for one in each.figures["stages"]}
    assert said == {
        families.OUT_OF_CLAMPS, families.READY_TO_PLANE, families.FULL_STRENGTH,
        families.DUST_FREE, families.LIGHT_USE, families.FULL_CURE,
    }  # fmt: skip


def test_what_is_used_is_the_longer_end_of_a_wait_and_the_shorter_of_an_open_time() -> None:
    """Where a trade magazine and the popular glue table disagree on an open time, the magazine is used."""
    yellow: Family = family("yellow PVA")
    assert {figure.low for figure in yellow.known if figure.of == "open time"} == {5, 10}
    assert yellow.figures["open_minutes"] == 10
    assert family("PU glue").figures["open_minutes"] == 20
    assert stage("PU glue", "out of clamps")["hours"] == 4
