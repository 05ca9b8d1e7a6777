import re

import pytest

from webapp.trade.clashes.compatibility import CLASHES, Layer, clashes
from webapp.trade.kinds import KINDS
from webapp.trade.products.families import FAMILIES
from webapp.trade.sources import HOW_KNOWN

FAMILY_WORDS = {one.family for one in FAMILIES}


def keys(product: str | None, *below: str, species: str = "", kind: str = "", words: str = "") -> list[str]:
    """What clashes when a family is opened over others."""
    layers = [Layer(f"our {name}", name) for name in below]
    opened = Layer(f"our {product}", product) if product else None
    return [one.key for one in clashes(opened, layers, species=species, kind=kind, words=words)]


def test_each_row_says_what_to_do_and_where_it_is_from_and_speaks_of_what_there_is() -> None:
    assert len({one.key for one in CLASHES}) == len(CLASHES)
    for one in CLASHES:
        assert 40 < len(one.says) < 320, one.key
        assert one.source.name
        assert one.source.how in HOW_KNOWN
        assert one.product | one.over <= FAMILY_WORDS, one.key
        assert one.kinds <= {kind.name for kind in KINDS} | {"scuff"}, one.key
        assert one.product or one.over or one.wood or one.kinds or one.words
        assert re.compile(one.words)


@pytest.mark.parametrize(
    ("product", "below", "key"),
    [
        ("varnish", "oil", "film-over-oil"),
        ("waterborne", "hardwax oil", "film-over-oil"),
        ("lacquer", "stain", "film-over-stain"),
        ("catalysed lacquer", "varnish", "solvent-over-soft"),
        ("lacquer", "filler", "solvent-over-soft"),
        ("varnish", "wax", "over-wax"),
        ("waterborne", "soap", "over-soap"),
        ("soap", "varnish", "soap-over-film"),
        ("milk paint", "varnish", "milk-paint-over-film"),
        ("waterborne", "dye", "colour-bleeds"),
        ("epoxy", "epoxy", "over-epoxy"),
        ("lacquer", "contact cement", "over-contact-cement"),
    ],
)
def test_a_layer_that_does_not_like_the_one_under_it(product: str, below: str, key: str) -> None:
    """TA06: wrinkled over glaze, peeled over stain. TA07: film over oil. TA15: blush over epoxy."""
    assert key in keys(product, below, kind="coat")
    assert key not in keys(product, kind="coat")


def test_an_oil_over_an_oil_and_a_varnish_over_a_varnish_are_well() -> None:
    assert keys("oil", "oil", kind="coat") == []
    assert keys("varnish", "varnish", kind="coat") == []


def test_the_layers_further_down_count_too() -> None:
    assert "over-wax" in keys("varnish", "varnish", "wax", kind="coat")


def test_dewaxed_shellac_is_the_barrier_and_common_shellac_is_not() -> None:
    varnish = Layer("wiping varnish", "varnish")
    assert [one.key for one in clashes(varnish, [Layer("dewaxed shellac sealer", "shellac")])] == []
    assert [one.key for one in clashes(varnish, [Layer("shellac", "shellac")])] == ["waxed-shellac"]


def test_steel_wool_is_kept_from_water_and_from_tannin() -> None:
    assert "steel-wool-waterborne" in keys("waterborne", kind="coat")
    assert "steel-wool-between" in keys(None, "waterborne", kind="rub out")
    assert "steel-wool-tannin" in keys(None, species="white oak", kind="sand")
    assert "steel-wool-tannin" not in keys(None, species="maple", kind="sand")
    assert keys(None, "varnish", species="maple", kind="rub out") == []


def test_oil_is_kept_out_of_closed_carcases() -> None:
    assert keys("oil", kind="coat", words="Oil the inside of the cabinet") == ["oil-inside"]
    assert keys("shellac", kind="coat", words="Shellac the drawers inside") == []
    assert keys("oil", kind="coat", words="Oil the top") == []


def test_oily_woods_are_told_under_oil_film_and_glue() -> None:
    assert keys("oil", species="cocobolo", kind="coat") == ["oily-wood-finish"]
    assert keys("lacquer", species="teak", kind="coat") == ["oily-wood-film"]
    assert keys("pva", species="rosewood", kind="glue-up") == ["oily-wood-glue"]
    assert keys("oil", species="cherry", kind="coat") == []


def test_pva_is_kept_from_loads_that_stay() -> None:
    assert keys("pva", kind="glue-up", words="Bent lamination for the apron") == ["pva-load"]
    assert keys("pva", kind="bend") == ["pva-bend"]
    assert keys("uf", kind="glue-up", words="Bent lamination for the apron") == []
    assert keys("pva", kind="glue-up", words="Glue up the top") == []


def test_places_metals_and_faces() -> None:
    """TA14: veneer on one face cups."""
    assert keys("hide glue", kind="glue-up", words="Bathroom stool") == ["hide-glue-water"]
    assert keys("contact cement", kind="glue-up") == ["contact-cement-joint"]
    assert "veneer-one-face" in keys("uf", kind="veneer")
    assert "iron-tannin-glue" in keys("pva", species="walnut", kind="glue-up")
    assert "acid-and-iron" in keys("catalysed lacquer", kind="coat", words="over the hinges")
    assert "hardened-too-thick" in keys("catalysed lacquer", kind="coat")
    assert keys(None, "lacquer", kind="pack") == ["plastic-on-film"]
    assert keys(None, species="oak", kind="fit hardware") == ["brass-in-oak"]


def test_the_name_of_the_piece_tells_of_water_and_veneer_only() -> None:
    """A garden bench is wet wherever it is glued; that its name says drawers tells nothing of where the oil goes."""
    hide, soap, oil = Layer("our hide", "hide glue"), Layer("our soap", "soap"), Layer("our oil", "oil")
    assert [one.key for one in clashes(hide, kind="glue-up", piece="Garden bench")] == ["hide-glue-water"]
    assert [one.key for one in clashes(soap, kind="coat", piece="Veneered chest")] == ["soap-on-veneer"]
    assert clashes(oil, kind="coat", words="Oil the top", piece="Chest of drawers, teak") == ()


def test_what_is_not_known_gives_no_warning() -> None:
    assert keys(None) == []
    assert keys("mystery", "mystery", species="moonwood", kind="coat", words="coat it") == []


@pytest.mark.parametrize(
    ("glue", "outside", "splashed"),
    [
        ("yellow PVA", "pva-outside", "pva-splashed"),
        ("water-resistant PVA", "pva-outside", None),
        ("waterproof PVA", None, None),
        ("our own glue", None, None),  # of the four that it may be, one stands it
    ],
)
def test_glue_is_held_against_the_water_of_its_place(glue: str, outside: str | None, splashed: str | None) -> None:
    """Classes of EN 204, from memory: D3 stands splashes, D4 the weather; the label says which a glue is."""
    for piece, key in (("Garden bench", outside), ("Bathroom shelf", splashed), ("Hall table", None)):
        found = clashes(Layer(glue, "pva"), kind="glue-up", piece=piece)
        assert [one.key for one in found] == ([key] if key else []), piece
