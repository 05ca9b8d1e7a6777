from decimal import Decimal

import pytest

from tests.reference.read import rows
from webapp.trade.wood.species import (
    ALSO_SAID,
    NOT_READ,
    SPECIES,
    Species,
    SpeciesError,
    find,
    like,
    typed,
    why_unknown,
)

TABLE = rows("dimensional_change.csv")
BY_NAME = {one.name: one for one in SPECIES}
# Rows of Table 13-5 that carry the values of a sister species, so what Table 4-3 gives for them differs.
SISTERS = {
    "ash, green": "ash, white",
    "birch, sweet": "birch, yellow",
    "elm, cedar": "elm, winged",
    "maple, black": "maple, sugar",
}


def test_each_row_that_was_read_is_there_to_its_last_digit() -> None:
    """dimensional_change.csv, Wood Handbook Table 13-5, 55 rows read."""
    read = [row for row in TABLE if row["how_known"] == "read"]
    printed = [(row["species"], row["CR_per_pct_mc"], row["CT_per_pct_mc"]) for row in read]
    assert len(printed) == 55
    assert [(one.name, str(one.radial), str(one.tangential)) for one in SPECIES] == printed


def test_no_row_that_was_only_recalled_is_there() -> None:
    """dimensional_change.csv: 20 rows from memory and 2 read in part, mahogany and teak with doubts among them."""
    recalled = [row["species"] for row in TABLE if row["how_known"] != "read"]
    assert len(recalled) == len(NOT_READ) == 22
    assert not set(recalled) & set(BY_NAME)
    assert [find(name) for name in (*recalled, *NOT_READ)] == [None] * 44


def test_coefficients_follow_from_shrinkage() -> None:
    """shrinkage.csv, Table 4-3: C = S/3000 / (1 - 20 S/3000), our own derivation, within 0.00002; 34 rows read."""
    checked = 0
    for row in rows("shrinkage.csv"):
        species = BY_NAME.get(row["species"])
        if species is None or row["how_known"] != "read":
            continue
        checked += 1
        shrinks = [Decimal(row[side]) / 3000 for side in ("radial_pct", "tangential_pct")]
        derived = [share / (1 - 20 * share) for share in shrinks]
        apart = max(abs(derived[0] - species.radial), abs(derived[1] - species.tangential))
        assert (apart < Decimal("0.00002")) is (species.name not in SISTERS), species
    assert checked == 34


def test_sisters_have_the_same_coefficients() -> None:
    """dimensional_change.csv marks these as differing from Table 4-3; the reason is seen here."""
    for one, other in SISTERS.items():
        mine, hers = BY_NAME[one], BY_NAME[other]
        assert (mine.radial, mine.tangential) == (hers.radial, hers.tangential)


def test_along_the_rings_it_moves_more_than_across_them() -> None:
    assert all(0 < one.radial < one.tangential for one in SPECIES)


def test_each_name_means_one_species() -> None:
    """TA13: a name that could mean several is not guessed."""
    names = [name.lower() for one in SPECIES for name in {one.name, one.said}]
    assert len(set(names)) == len(names)
    for one in SPECIES:
        assert find(one.name) == find(f"  {one.said.upper()} ") == one
    assert [find(said) for said in ALSO_SAID] == [BY_NAME[name] for name in ALSO_SAID.values()]
    assert find("oak") is find("cherry") is find("") is None


def test_words_find_what_may_be_meant() -> None:
    assert [one.said for one in like("maple")] == [
        "bigleaf maple", "red maple", "silver maple", "black maple", "sugar maple",
    ]  # fmt: skip
    assert [one.said for one in like("WAL")] == ["black walnut"]
    assert like("") == like("teak") == ()


def test_an_unknown_wood_is_told_from_an_unclear_one() -> None:
    """TA13: no number is invented, and the sentence says what to do."""
    assert why_unknown("cherry") == "“cherry” can be black cherry: write which it is."
    assert why_unknown("oak").endswith("water, laurel or willow oak and others: write which it is.")
    assert why_unknown("Yellow-Poplar").startswith("The figure for Yellow-Poplar was not seen in print.")
    assert why_unknown("zebra").startswith("No figure for zebra here. Type its coefficients")
    assert why_unknown(" ").startswith("No figure for a wood without a name here.")


def test_a_maker_types_their_own() -> None:
    own = typed("teak", Decimal("0.00101"), Decimal("0.00186"), "a yard's data sheet")
    assert own == Species("teak", "teak", Decimal("0.00101"), Decimal("0.00186"), "a yard's data sheet", "typed")


@pytest.mark.parametrize(
    ("said", "coefficient", "source", "words"),
    [
        ("", "0.002", "a book", "name of the wood"),
        ("teak", "0.002", " ", "where its figures stand"),
        ("teak", "0.186", "a book", "as a share"),
        ("teak", "0", "a book", "as a share"),
    ],
)
def test_what_cannot_be_a_coefficient_is_refused(said: str, coefficient: str, source: str, words: str) -> None:
    """0.186 % for 1 % is a share of 0.00186."""
    with pytest.raises(SpeciesError, match=words):
        typed(said, Decimal(coefficient), Decimal("0.002"), source)
