"""Long lists in pages. One row more than shown is asked for, which says whether there is more without counting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from flask import request, url_for
from sqlalchemy import Select

from webapp.db.session import session

SIZE = 20
LAST = 10_000
Row = TypeVar("Row")


@dataclass(frozen=True)
class Page(Generic[Row]):
    """The rows of one page, its number from 1, and whether there are more after it."""

    rows: Sequence[Row]
    number: int
    more: bool

    def address(self, number: int) -> str:
        """Return the address of another page of the same list."""
        values: dict[str, Any] = {**request.args.to_dict(), **(request.view_args or {}), "page": number}
        return url_for(str(request.endpoint), **values)


def page_of(wanted: Select[Row], size: int = SIZE) -> Page[Row]:
    """Return the page that the address asks for."""
    number = min(LAST, max(1, request.args.get("page", 1, type=int)))
    rows = session().scalars(wanted.limit(size + 1).offset((number - 1) * size)).all()
    return Page(rows[:size], number, len(rows) > size)


def paged(wanted: Select[Row], size: int = SIZE) -> tuple[Sequence[Row], Page[Row]]:
    """Return the rows of the page that the address asks for, and where it stands."""
    page = page_of(wanted, size)
    return page.rows, page
