"""Every table and every column either travels or is left out for a reason."""

from webapp.exports.kinds import BY_NAME, KINDS, LEFT_OUT, NAMED_BY, place_of, target
from webapp.tables import metadata


def test_each_table_travels_or_is_left_out() -> None:
    carried = {kind.table.name for kind in KINDS}
    tables = set(metadata.tables)
    assert tables - carried - set(LEFT_OUT) == set(), "say in webapp/exports/kinds.py what becomes of these"
    assert carried & set(LEFT_OUT) == set()


def test_each_column_travels_or_is_left_out() -> None:
    """A column travels by itself. Held here: each reference can be said, and no reason is for nothing."""
    for kind in KINDS:
        for column in kind.columns:
            table = target(column)
            assert table in {None, "photo", *NAMED_BY}, f"{column}: the file has no way to name a row of {table}"
        left = {column.name for column in kind.table.columns if place_of(column, kind) is not None}
        assert left | {column.name for column in kind.columns} == set(kind.table.columns.keys())
    for name in LEFT_OUT:
        table, _, column = name.partition(".")
        assert table in metadata.tables
        assert not column or column in metadata.tables[table].columns, f"{name} is gone"


def test_rows_come_after_those_they_name() -> None:
    place = {kind.table.name: number for number, kind in enumerate(KINDS)}
    for number, kind in enumerate(KINDS):
        named = [table for column in kind.columns if (table := target(column)) in place and table != kind.table.name]
        assert all(place[str(table)] < number for table in named)
        assert not kind.within or place[BY_NAME[kind.within].table.name] < number
