import pytest

from webapp.trade.sources import HOW_KNOWN
from webapp.trade.wood.woods import TRAITS, WOODS, traits


@pytest.mark.parametrize(
    ("words", "known"),
    [
        ("Cocobolo", ("irritant", "oily")),
        ("white oak, quartersawn", ("tannin-rich",)),
        ("spalted walnut", ("tannin-rich", "spalted")),
        ("eastern red cedar", ("oily",)),
        ("western red cedar", ("irritant", "tannin-rich")),
        ("two teaks", ("irritant", "oily")),
        ("cloak and croak", ()),
        ("hard maple", ()),
        ("", ()),
    ],
)
def test_a_wood_is_known_by_its_name(words: str, known: tuple[str, ...]) -> None:
    assert traits(words) == known


def test_each_word_says_its_source_and_is_in_a_list_once() -> None:
    pairs = [(word, trait) for word, trait, _ in WOODS]
    assert len(pairs) == len(set(pairs))
    for word, trait, source in WOODS:
        assert source.how in HOW_KNOWN
        assert trait in traits(word)
    assert {trait for _, trait, _ in WOODS} == set(TRAITS)
