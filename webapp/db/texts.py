"""Text that both databases look through and put in order in the same way.

LIKE minds case for all letters on PostgreSQL and for some on SQLite, and the order of letters, figures and marks hangs
on how a PostgreSQL server was set up. So words are looked for as they stand, in columns that are folded
(`folding.py`), and order is that of the characters' numbers.
"""

from typing import Any

from sqlalchemy import ColumnElement, Integer, String
from sqlalchemy.ext.compiler import compiles
from sqlalchemy.orm import InstrumentedAttribute
from sqlalchemy.sql.functions import FunctionElement

from webapp.db.folding import fold


class _Place(FunctionElement[int]):
    """Where a text stands in another, from 1; 0 where it does not."""

    type = Integer()
    inherit_cache = True


class _Characters(FunctionElement[str]):
    """A text, in the order of the numbers of its characters."""

    type = String()
    inherit_cache = True


@compiles(_Place)
def _place(element: Any, compiler: Any, **more: Any) -> str:
    return f"strpos({compiler.process(element.clauses, **more)})"


@compiles(_Place, "sqlite")
def _place_on_sqlite(element: Any, compiler: Any, **more: Any) -> str:
    return f"instr({compiler.process(element.clauses, **more)})"


@compiles(_Characters)
def _characters(element: Any, compiler: Any, **more: Any) -> str:
    return f'{compiler.process(element.clauses, **more)} COLLATE "C"'


@compiles(_Characters, "sqlite")
def _characters_on_sqlite(element: Any, compiler: Any, **more: Any) -> str:
    return str(compiler.process(element.clauses, **more))


def contains(column: InstrumentedAttribute[str], words: str) -> ColumnElement[bool]:
    """Return a condition on a folded column: the words occur in it; no sign has a meaning of its own."""
    return _Place(column, fold(words)) > 0


def in_order(column: InstrumentedAttribute[str]) -> ColumnElement[str]:
    """Return a column to order rows by."""
    return _Characters(column)
