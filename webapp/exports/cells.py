"""Cells of a table that a spreadsheet opens: text that cannot run, numbers that stay numbers, and the way back.

Comma-separated as RFC 4180 has it: UTF-8 with a byte order mark (without one the commonest spreadsheet takes it for its
old code page), lines end with CR LF, every text stands in quotes, a number or a day never does.

A spreadsheet runs what begins with = + - @, a tab or a line break (OWASP, "CSV Injection"), and one that separates by
semicolons or tabs finds such beginnings in the middle of a cell as well. What looks like a date, a time or a fraction
it turns into one. So a text is cut at semicolons, tabs and line breaks, and an apostrophe goes before each piece that
could run; before the whole also where it would be read as something else than text. A piece that begins with an
apostrophe gets another one. So the way back is short: from each piece that begins with an apostrophe, take that away.
A text that is a plain number (-12.50) stays as it is: it cannot run, and a number is what it says.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

Cell = str | int | Decimal | date | None

BOM = "\ufeff"
GUARD = "'"
RUNS = frozenset("=+-@＝＋－＠")
BREAKS = ("\t", "\r", "\n")
LONGEST_FIGURE = 40  # nothing longer is taken for a number or a date

_PIECES = re.compile(r"([;\t\r\n])")
_NUMBER = re.compile(r"-?(0|[1-9]\d{0,14})(\.\d+)?", re.ASCII)
_JOINS = r"\s.,:/\-+%()°'’_$€£¥"
_MONTH = "(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*"
_READ_OTHERWISE = re.compile(
    rf"[\de{_JOINS}]*\d[\de{_JOINS}]*(?:[ap]\.?m?\.?\s*)?"  # 1/8, 3-4, 12:30 pm, 1e5, 007
    rf"|[\d{_JOINS}]*\d[{_JOINS}]*{_MONTH}[\d{_JOINS}]*|\s*{_MONTH}[\d{_JOINS}]*\d[\d{_JOINS}]*"  # 3-Mar, Mar 3
    r"|\s*(?:true|false)\s*",
    re.IGNORECASE,
)


def guarded(text: str) -> str:
    """Return a text as it stands in a cell.

    >>> guarded("=1+1"), guarded("1/8"), guarded("-12.50"), guarded("oak; @A1")
    ("'=1+1", "'1/8", '-12.50', "oak;' @A1")
    """
    if _NUMBER.fullmatch(text):
        return text
    pieces = [GUARD + piece if _could_run(piece) else piece for piece in _PIECES.split(text)]
    if not pieces[0].startswith(GUARD) and (text.startswith(BREAKS) or _is_read_otherwise(text)):
        pieces[0] = GUARD + pieces[0]
    return "".join(pieces)


def _could_run(piece: str) -> bool:
    """Whether a piece begins, after all that is not seen and after quotes, with what makes a formula."""
    first = next((c for c in piece if c != '"' and unicodedata.category(c)[0] not in "CZ"), "")
    return piece.startswith(GUARD) or first == GUARD or first in RUNS


def _is_read_otherwise(text: str) -> bool:
    return len(text) <= LONGEST_FIGURE and _READ_OTHERWISE.fullmatch(text) is not None


def plain(cell: str) -> str:
    """Return the text that stands in a cell: the way back.

    >>> plain(guarded("=1+1")), plain(guarded("'tis")), plain("-12.50")
    ('=1+1', "'tis", '-12.50')
    """
    return "".join(piece.removeprefix(GUARD) for piece in _PIECES.split(cell))


def line(cells: Sequence[Cell]) -> str:
    """Return one line of a table.

    >>> line(['Hall "table", oak', Decimal("-12.50"), None, 3])
    '"Hall ""table"", oak",-12.50,,3\\r\\n'
    """
    return ",".join(_cell(cell) for cell in cells) + "\r\n"


def table(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Iterator[str]:
    """Yield a table line by line."""
    yield BOM + line(head)
    yield from (line(row) for row in rows)


def _cell(cell: Cell) -> str:
    if cell is None or cell == "":
        return ""
    if isinstance(cell, str):
        return '"' + guarded(cell).replace('"', '""') + '"'
    return f"{cell:f}" if isinstance(cell, Decimal) else str(cell)  # a day as ISO 8601 has it
