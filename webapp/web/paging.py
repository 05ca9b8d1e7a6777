"""Long lists by pages: twenty rows and a way on. The number of the page is in the address."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

from flask import request, url_for
from sqlalchemy import Select, func, select

from webapp.db.session import session

Row = TypeVar("Row")
SIZE = 20
FARTHEST = 100_000


@dataclass(frozen=True)
class Page(Generic[Row]):
    """The rows of one page, its number from 1, the number of the last page, and how many rows there are in all."""

    rows: Sequence[Row]
    number: int
    last: int
    total: int


def page_of(query: "Select[tuple[Row]]", size: int = SIZE) -> Page[Row]:
    """Return the page that the address asks for; beyond the last one, the last."""
    total = session().scalar(select(func.count()).select_from(query.order_by(None).subquery())) or 0
    last = max(1, -(-total // size))
    number = min(max(1, request.args.get("page", 1, type=int)), last, FARTHEST)
    rows = session().scalars(query.limit(size).offset((number - 1) * size)).unique().all()
    return Page(rows, number, last, total)


def address(number: int) -> str:
    """Return this address with another page in it."""
    assert request.endpoint
    values: dict[str, Any] = {**(request.view_args or {}), **request.args.to_dict(), "page": number}
    return url_for(request.endpoint, **values)
