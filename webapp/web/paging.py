"""Long lists in pages. One row more than shown is asked for, which says whether there is more without counting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from flask import request, url_for
from sqlalchemy import Select

from webapp.db.session import session

SIZE = 20
LAST = 10_000
Row = TypeVar("Row")


@dataclass(frozen=True)
class Page:
    number: int
    more: bool

    def address(self, number: int) -> str:
        """Return the address of another page of the same list."""
        values: dict[str, Any] = {**request.args.to_dict(), **(request.view_args or {}), "page": number}
        return url_for(str(request.endpoint), **values)


def paged(wanted: Select[tuple[Row]], size: int = SIZE) -> tuple[Sequence[Row], Page]:
    """Return the rows of the page that was asked for, and where it stands."""
    number = min(LAST, max(1, request.args.get("page", 1, type=int)))
    rows = session().scalars(wanted.limit(size + 1).offset((number - 1) * size)).all()
    return rows[:size], Page(number, len(rows) > size)
