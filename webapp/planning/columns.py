"""Text in columns, for a terminal: widths as they are seen, long texts cut, nothing in a name that moves the cursor."""

from collections.abc import Iterable, Sequence
from unicodedata import category, combining, east_asian_width

_GAP = "  "


def width(text: str) -> int:
    """Return how many cells of a terminal a text takes.

    Takes:   a plain text. Returns: cells; wide letters take two, accents that stand on another none. Raises: nothing.
    Source:  Unicode Standard Annex 11.

    >>> width("oak"), width("木"), width("e\u0301")
    (3, 2, 1)
    """
    return sum(_cells(letter) for letter in text)


def plain(text: str) -> str:
    """Return a text without what moves the cursor, turns the direction or cannot be printed.

    Takes: any text. Returns: one line. Raises: nothing. Source: shop rule.

    >>> plain("a\u001b[31mred\u202e  b")
    'a [31mred b'
    """
    kept = (" " if category(letter) in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"} else letter for letter in text)
    return " ".join("".join(kept).split())


def cut(text: str, most: int) -> str:
    """Return a text that takes so many cells at most, with a sign where it was cut.

    Takes:   a plain text; cells, at least one. Returns: it, or its begin and an ellipsis. Raises: nothing.
    Source:  shop rule.

    >>> cut("Hall table", 6), cut("木木木", 4)
    ('Hall …', '木…')
    """
    if width(text) <= most:
        return text
    kept, left = "", most - 1
    for letter in text:
        left -= _cells(letter)
        if left < 0:
            break
        kept += letter
    return f"{kept}…"


def columns(head: Sequence[str], rows: Iterable[Sequence[str]], most: Sequence[int]) -> list[str]:
    """Return rows as lines, one column under the other.

    Takes:   the titles; the cells of each row, as many; how wide each column may be.
    Returns: lines without spaces at their end, titles first. A column is as wide as its longest cell, or cut.
    Raises:  ValueError where a row is longer or shorter than the titles.
    Source:  shop rule.

    >>> columns(["when", "who"], [["Mon", "Ann"], ["Tuesday", "Bo"]], [5, 9])
    ['when   who', 'Mon    Ann', 'Tues…  Bo']
    """
    cells = [[cut(plain(cell), limit) for cell, limit in zip(row, most, strict=True)] for row in [head, *rows]]
    widths = [max(width(row[place]) for row in cells) for place in range(len(head))]
    return [
        _GAP.join(cell + " " * (wide - width(cell)) for cell, wide in zip(row, widths, strict=True)).rstrip()
        for row in cells
    ]


def _cells(letter: str) -> int:
    if combining(letter):
        return 0
    return 2 if east_asian_width(letter) in {"W", "F"} else 1
