"""Text made comparable, so that both databases find the same: case, accents and composed letters do not count."""

import unicodedata

from sqlalchemy import ColumnElement
from sqlalchemy.orm import InstrumentedAttribute


def fold(text: str) -> str:
    """Return the text without case, accents and what nobody sees.

    >>> fold("ÉBÈNE") == fold("ébène") == fold("e\\u0301be\\u0300ne")
    True
    """
    parts = unicodedata.normalize("NFKD", text.casefold())
    return " ".join(
        "".join(c for c in parts if not unicodedata.combining(c) and unicodedata.category(c) != "Cf").split()
    )


def contains(column: InstrumentedAttribute[str], words: str) -> ColumnElement[bool]:
    """Return a condition on a folded column: the words occur in it, % and _ taken literally."""
    return column.contains(fold(words), autoescape=True)
