import pytest

from tests.reference.read import rows
from webapp.trade.cautions.caution import EU, FOLLOW, PLACES, UK, US, Caution
from webapp.trade.cautions.work import (
    CAUTIONS,
    CautionError,
    Done,
    again_at_closing,
    caution,
    for_heating,
    for_kind,
    for_operation,
    for_piece,
    for_product,
    for_species,
)
from webapp.trade.kinds import KINDS
from webapp.trade.products.families import FAMILIES
from webapp.trade.sources import MEMORY, READ

PUBLIC = (
    "CFR", "OSHA", "CPSC", "NIOSH", "HSE", "Army", "Agency", "Directive", "Regulation", "WAC", "NFPA", "University",
    "university", "SI 19", "EN ", "safetylit.org", "hardwoodfloorsmag.com", "American Lutherie", "FR ",
)  # fmt: skip


@pytest.mark.parametrize("one", CAUTIONS, ids=lambda one: one.key)
def test_each_caution_is_short_gives_way_and_says_its_source(one: Caution) -> None:
    assert len(one.text) < 420
    assert one.text.endswith(FOLLOW)
    assert any(word in one.source for word in PUBLIC) or one.key == "hide-glue-heat", one.source
    for limit in one.limits:
        assert limit.place in PLACES
        assert limit.how in (READ, MEMORY)
        assert limit.says
        assert limit.source


def test_where_limits_differ_both_sides_of_the_atlantic_are_told() -> None:
    differ = (
        *("dust", "isocyanates", "formaldehyde", "lead-paint", "strippers", "contact-cement", "saw-guards", "grooving"),
        *("tip-over", "cribs", "bunk-beds", "food-contact", "spraying", "open-flame", "solvents"),
    )
    for key in differ:
        assert {limit.place for limit in caution(key).limits} == {US, UK, EU}, key


def test_each_key_is_there_once_and_opens_its_caution() -> None:
    keys = [one.key for one in CAUTIONS]
    assert len(keys) == len(set(keys))
    assert all(caution(key).key == key for key in keys)
    with pytest.raises(CautionError, match="no caution “lions”"):
        caution("lions")


def test_every_caution_can_come_up_and_none_is_missing() -> None:
    used = {key for one in KINDS for key in for_kind(one.name)}
    used |= {key for name in ("Wardrobe", "Crib", "Bunk bed", "Bread board") for key in for_piece(name)}
    used |= {key for one in FAMILIES for key in for_product(one.name)}
    used |= {key for wood in ("iroko", "spalted beech") for key in for_species(wood)}
    used |= {*for_operation("strip", words="strip the old paint"), *for_heating()}
    used |= {*again_at_closing([Done("coat", "wax", "wax"), Done("sand")])}
    assert used == {one.key for one in CAUTIONS}


def test_what_dries_by_oxygen_brings_the_caution_on_rags_first() -> None:
    """Boiled and raw linseed, tung, blends, hardwax oil, varnish, oil paint, oil stain, paste wax, oil filler."""
    oily = {one.name for one in FAMILIES if "oily-rags" in one.cautions}
    assert all(for_product(name)[0] == "oily-rags" for name in oily)
    wanted = {
        one.name for one in FAMILIES if one.family in ("oil", "hardwax oil", "varnish", "oil paint", "stain", "wax")
    }
    assert oily == wanted | {"oil grain filler"}


def test_glues_bring_their_own_cautions() -> None:
    assert for_product("PU glue") == ("isocyanates",)
    assert for_product("two-part polyurethane")[:1] == ("solvents",)
    assert "isocyanates" in for_product("two-part polyurethane")
    assert for_product("epoxy") == ("epoxy", "epoxy-heat")
    assert for_product("contact cement") == ("solvents", "open-flame", "contact-cement")
    assert for_product("superglue") == ("ca-cotton",)
    assert {one.name for one in FAMILIES if "formaldehyde" in one.cautions} == {
        "UF powder glue", "pre-catalysed lacquer", "conversion varnish",
    }  # fmt: skip
    assert for_product("yellow PVA") == ()
    assert for_product("hot snot") == ()


def test_a_shops_own_product_brings_the_cautions_of_its_family() -> None:
    assert for_product("our mix", "hardwax oil") == ("oily-rags", "solvents")
    assert for_product("yellow PVA", "pva") == ()
    assert for_product("mystery", "mystery") == ()


@pytest.mark.parametrize(
    ("kind", "keys"),
    [
        ("mortise", ("router", "blades", "dust")),
        ("groove", ("saw-guards", "grooving", "router", "blades", "dust")),
        ("cut", ("saw-guards", "blades", "dust")),
        ("sand", ("dust",)),
        ("coat", ()),
        ("glue-up", ()),
        ("whittle", ()),
    ],
)
def test_kinds_of_work_bring_their_cutters_and_dust(kind: str, keys: tuple[str, ...]) -> None:
    assert for_kind(kind) == keys


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("Chest of drawers", ("tip-over",)),
        ("Oak WARDROBE", ("tip-over",)),
        ("Baby crib", ("cribs",)),
        ("Bunk beds for two", ("bunk-beds",)),
        ("Bookcase with a cutting board", ("tip-over", "food-contact")),
        ("Hall table", ()),
        ("Cotton reel box", ()),
        ("", ()),
    ],
)
def test_a_piece_is_known_by_its_name(name: str, keys: tuple[str, ...]) -> None:
    assert for_piece(name) == keys


@pytest.mark.parametrize(
    ("kind", "words", "key"),
    [
        ("coat", "Spray the second coat", "spraying"),
        ("prepare", "strip the old varnish", "strippers"),
        ("prepare", "scrape the old paint", "lead-paint"),
        ("joinery", "dadoes for the shelves", "grooving"),
        ("fit hardware", "rout for the hinges", "router"),
        ("repair", "tack it with superglue", "ca-cotton"),
    ],
)
def test_what_the_maker_wrote_is_read(kind: str, words: str, key: str) -> None:
    assert key in for_operation(kind, words=words)


def test_strips_of_veneer_are_no_stripping() -> None:
    assert for_operation("veneer", words="tape the strips, outer route") == ()


def test_an_irritant_wood_is_told_where_it_makes_dust_and_not_where_it_is_oiled() -> None:
    assert "irritant-woods" in for_operation("sand", species="western red cedar")
    assert "spalted" in for_operation("turn", words="bowl, spalted maple")
    assert for_operation("coat", species="western red cedar") == ()


def test_sanding_oil_warns_of_the_dust_too() -> None:
    assert for_operation("rub out", "hardwax oil", "hardwax oil")[:2] == ("oily-rags", "oily-dust")
    assert "oily-dust" not in for_operation("coat", "hardwax oil", "hardwax oil")


def test_rags_are_asked_about_again_at_closing_after_any_oil_step_that_day() -> None:
    """TA07: after an oil step; not on a day without one."""
    assert again_at_closing([Done("coat", "pure tung oil", "oil"), Done("glue-up", "yellow PVA", "pva")]) == (
        "oily-rags",
    )
    assert again_at_closing([Done("stain", "our stain", "stain"), Done("sand")]) == ("oily-rags", "oily-dust")
    assert again_at_closing([Done("coat", "wiping varnish", "varnish")]) == ("oily-rags", "heaters")
    assert again_at_closing([Done("coat", "shellac", "shellac")]) == ("heaters",)
    assert again_at_closing([Done("glue-up", "yellow PVA", "pva"), Done("sand")]) == ()
    assert again_at_closing([]) == ()


def test_an_advice_to_warm_the_room_brings_the_heaters_along() -> None:
    """TA10: the app itself says to warm the room."""
    assert for_heating() == ("heaters",)
    assert for_heating([Done("coat", "waterborne polyurethane", "waterborne")]) == ("heaters",)
    assert for_heating([Done("coat", "our lacquer", "lacquer")]) == ("open-flame", "heaters")
    text = caution("heaters").text
    assert "overnight" in text
    assert "carbon monoxide" in text


# Each row of the table: the caution that carries it, and words that must stand in it, its limits or its source.
FACTS = {
    ("oily rags", 0): ("oily-rags", ("within hours", "flat", "in water in a closed metal can")),
    ("oily rags", 1): ("oily-rags", ("Army TB 43-0209",)),
    ("oily rags", 2): ("oily-rags", ("1926.252(e)", "covered")),
    ("oily rags", 3): ("oily-rags", ("never bin them wet", "that says to bin them is wrong")),
    ("oily rags", 4): ("oily-rags", ("1910.106", "emptied every day")),
    ("isocyanates", 0): ("isocyanates", ("asthma", "National Emphasis Program 2013")),
    ("isocyanates", 1): ("isocyanates", ("people nearby too", "Occup. Environ. Hyg. 2013")),
    ("wood dust", 0): ("dust", ("15 mg/m³", "5 mg/m³", "1 mg/m³ advised", "IARC vol. 100C")),
    ("spray finishing", 0): ("spraying", ("1910.107", "NFPA 33", "nothing that can spark")),
    ("table saw", 0): ("saw-guards", ("WAC 296-806-48012", "1/4 in")),
    ("table saw", 1): ("saw-guards", ("8 CCR 4296", "1/2 in")),
    ("dado / groove", 0): ("grooving", ("8 CCR 4296(a)", "featherboards")),
    ("woodworking machines", 0): ("blades", ("1910.213(a)",)),
    ("woodworking machines", 1): ("blades", ("must not start by itself", "labtrain.noaa.gov")),
    ("tip-over", 0): ("tip-over", ("16 CFR 1261.2", "88 FR 28403", "1 September 2023", "F2057-23")),
    ("tip-over", 1): ("tip-over", ("27 in", "30 lb", "3.2 ft³")),
    ("tip-over", 2): ("tip-over", ("57 lb shows a superseded scope",)),
    ("cribs", 0): ("cribs", ("16 CFR 1219 and 1220", "75 FR 81766", "old ones too")),
    ("cribs", 1): ("cribs", ("2 3/8 in (60 mm)", "1/16 in (1.5 mm)")),
    ("bunk beds", 0): ("bunk-beds", ("64 FR 71888", "19 June 2000", "grown people's")),
}
LEFT_OUT = {("wood dust", 1): "which standard an insurer or inspector reads; nothing a maker does"}


def test_every_row_of_the_table_is_carried_or_left_out_with_the_reason() -> None:
    """Source: cautions.csv, 14 rows read, 2 mixed, 5 from memory; each says its own."""
    seen: dict[str, int] = {}
    for row in rows("cautions.csv"):
        topic = row["topic"]
        number = seen[topic] = seen.get(topic, -1) + 1
        if (topic, number) in LEFT_OUT:
            continue
        key, words = FACTS[topic, number]
        one = caution(key)
        told = " ".join([one.text, one.source, *(f"{limit.says} {limit.source}" for limit in one.limits)])
        missing = [word for word in words if word not in told]
        assert not missing, f"{topic} {number}: {missing}"
    assert sum(seen.values()) + len(seen) == len(FACTS) + len(LEFT_OUT) == 21
