"""How the glues of a shop stand water."""

import pytest

from webapp.trade.products.durability import water_class


@pytest.mark.parametrize(
    ("name", "kind", "found"),
    [
        ("yellow PVA", "pva", "D2"),
        ("PU glue", "", "D4"),
        ("our urea", "uf", "C1 to C4"),
        ("our own glue", "pva", None),  # D1 to D4
        ("hot hide glue", "hide glue", None),
        ("wiping varnish", "varnish", None),
        ("mystery", "", None),
    ],
)
def test_a_class_is_said_where_all_that_it_may_be_agree(name: str, kind: str, found: str | None) -> None:
    """What a generic glue reaches is common practice, no source."""
    one = water_class(name, kind)
    assert (one and one.name) == found
