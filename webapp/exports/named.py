"""What the rows of a file name: each name, key or number leads to a row of the same file."""

from collections.abc import Mapping
from typing import Any

from webapp.exports.kinds import BY_TABLE, NAMED_BY
from webapp.exports.reading import refuse, shown
from webapp.exports.row import Row, line_key, mapping_of, refuse_unknown
from webapp.exports.values import text_of, whole_of
from webapp.planning.faults import Path


class Known:
    """The rows that others name, by what they are named by."""

    def __init__(self, rows: Mapping[str, list[Row]]) -> None:
        self._named = {
            table: {self._place(table, row, row.values[column]): row for row in rows[BY_TABLE[table].name]}
            for table, column in NAMED_BY.items()
        }
        self._photos = {row.key: row for row in rows["photos"]}
        self._figures = {
            (row.above.values["name"], row.values["number"]): row for row in rows["figures"] if row.above is not None
        }

    def _place(self, table: str, row: Row, name: Any) -> Any:
        return (row.build, name) if table == "operation" else name

    def row(self, table: str, row: Row, key: str, may_lack: bool) -> Row | None:
        """Return the row that a row names."""
        raw, path = row.raw.get(key), (*row.path, key)
        if raw is None and may_lack:
            return None
        if table == "photo":
            return self._photo(raw, path)
        found = self._named[table].get(self._place(table, row, text_of(raw, path)))
        if found is None:
            raise refuse(path, f"there is no {table} {shown(raw)} in the file.")
        return found

    def _photo(self, raw: Any, path: Path) -> Row:
        found = self._photos.get(whole_of(raw, path))
        if found is None:
            raise refuse(path, f"there is no photo {raw} in the file.")
        return found

    def settle_line(self, row: Row) -> None:
        """Look at what a line of the journal names: another line, a photo, the figures a wait began with."""
        if row.raw.get("corrects") is not None:
            row.values["corrects"] = line_key(row.raw["corrects"], (*row.path, "corrects"))
        data = row.values["data"]
        if not isinstance(data, dict):
            raise refuse((*row.path, "data"), "this is not an object.")
        if "photo" in data:
            row.names["photo"] = self._photo(data.pop("photo"), (*row.path, "data", "photo"))
        if "figures" in data:
            row.names["figures"] = self._of_figures(data.pop("figures"), (*row.path, "data", "figures"))

    def _of_figures(self, raw: Any, path: Path) -> Row:
        mapping = mapping_of(raw, path)
        refuse_unknown(mapping, ("product", "number"), path)
        product = text_of(mapping.get("product"), (*path, "product"))
        found = self._figures.get((product, whole_of(mapping.get("number"), (*path, "number"))))
        if found is None:
            raise refuse(path, "there are no such figures in the file.")
        return found
