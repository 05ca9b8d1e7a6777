"""Long lists in pages. One row more than shown is asked for, which says whether there is more without counting."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar
from urllib.parse import urlencode

from flask import request
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
        asked = [(name, value) for name, value in request.args.items(multi=True) if name != "page"]
        return f"{request.path}?{urlencode([*asked, ('page', str(number))])}"


def asked() -> int:
    """Return the number of the page that the address asks for."""
    return min(LAST, max(1, request.args.get("page", 1, type=int)))


def up_to(size: int) -> int:
    """Return how many rows are wanted up to the end of that page, and the one that says whether there are more."""
    return asked() * size + 1


def page_of(wanted: Select[Row], size: int = SIZE) -> Page[Row]:
    """Return the page that the address asks for."""
    number = asked()
    rows = session().scalars(wanted.limit(size + 1).offset((number - 1) * size)).all()
    return Page(rows[:size], number, len(rows) > size)
