import pytest

from webapp.trade.cautions import CAUTIONS, Caution, CautionError, caution, for_family, for_kind, for_piece
from webapp.trade.families import FAMILIES, FamilyError
from webapp.trade.kinds import KINDS


@pytest.mark.parametrize("one", CAUTIONS, ids=lambda one: one.key)
def test_each_caution_is_short_gives_way_and_says_its_source(one: Caution) -> None:
    text = one.text
    assert len(text) < 400
    assert any(word in text for word in ("label", "local", "Local", "licensed", "manual"))
    assert one.source


def test_each_key_is_there_once_and_opens_its_caution() -> None:
    keys = [one.key for one in CAUTIONS]
    assert len(keys) == len(set(keys))
    assert all(caution(key).key == key for key in keys)
    with pytest.raises(CautionError, match="no caution “lions”"):
        caution("lions")


def test_every_caution_can_come_up_and_none_is_missing() -> None:
    pieces = [for_piece(name) for name in ("Wardrobe", "Crib", "Bunk bed")]
    used = {key for keys in [*map(for_kind, (kind.name for kind in KINDS)), *pieces] for key in keys}
    used |= {key for one in FAMILIES for key in for_family(one.name)}
    assert used == {one.key for one in CAUTIONS}


@pytest.mark.parametrize("name", ["boiled linseed oil", "wiping oil", "pure tung oil", "hardwax oil", "wiping varnish"])
def test_oil_brings_the_caution_on_rags(name: str) -> None:
    assert for_family(name)[0] == "oily-rags"


def test_glues_bring_their_own_cautions() -> None:
    assert for_family("PU glue") == ("isocyanates",)
    assert for_family("slow epoxy") == ("epoxy",)
    assert for_family("hot hide glue") == ("hide-glue-heat",)
    assert for_family("yellow PVA") == ()
    with pytest.raises(FamilyError):
        for_family("superglue")


@pytest.mark.parametrize(
    ("kind", "keys"),
    [("mortise", ("blades", "dust")), ("sand", ("dust",)), ("coat", ()), ("glue-up", ()), ("whittle", ())],
)
def test_kinds_of_work_bring_blades_and_dust(kind: str, keys: tuple[str, ...]) -> None:
    assert for_kind(kind) == keys


def test_the_kinds_that_cut_are_kinds_of_the_house() -> None:
    assert {kind.name for kind in KINDS if kind.dusty} == {kind.name for kind in KINDS if "dust" in for_kind(kind.name)}


@pytest.mark.parametrize(
    ("name", "keys"),
    [
        ("Chest of drawers", ("tip-over",)),
        ("Oak WARDROBE", ("tip-over",)),
        ("Baby crib", ("cribs",)),
        ("Bunk beds for two", ("bunk-beds",)),
        ("Hall table", ()),
        ("Cotton reel box", ()),
        ("", ()),
    ],
)
def test_a_piece_is_known_by_its_name(name: str, keys: tuple[str, ...]) -> None:
    assert for_piece(name) == keys


def test_rags_are_never_to_be_binned() -> None:
    """Source: the table of cautions; one old sheet says to bin them and is contradicted by all fire guidance."""
    text = caution("oily-rags").text
    assert "closed metal can" in text
    assert "never bin them" in text
