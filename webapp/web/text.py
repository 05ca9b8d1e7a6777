"""Text as it is typed, stored and shown: composed, without what nobody sees, and never turning the line it stands in.

Names in Arabic and Hebrew stay as they are. What goes is what turns or hides other text: overrides, embeddings and
isolates, zero-width spaces, soft hyphens. Joiners stay, without which Persian words and many emoji fall apart, and so
do the marks that say which way a full stop belongs.
"""

import re
import unicodedata
from typing import Any

from flask import Flask
from markupsafe import Markup, escape

LINE_ENDS = re.compile("\r\n?|[\u2028\u2029\x85]")
ACROSS_LINES = re.compile(r"[ ]*[\n\t][\n\t ]*")
TURNING = "\u202a-\u202e\u2066-\u2069"
UNSEEN = re.compile(f"[{TURNING}\u00ad\u180e\u200b\u2060-\u2064\u206a-\u206f\ufeff\ufff9-\ufffb]")
TAGS = re.compile("(\U0001f3f4[\U000e0020-\U000e007e]+\U000e007f)|[\U000e0000-\U000e007f]")  # flags keep theirs
BLANK = frozenset("\u115f\u1160\u3164\uffa0\u2800")  # letters that leave the paper white

# strong right-to-left: Hebrew, Arabic and their neighbours, the forms for presentation, the older scripts
RIGHT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff"
IS_RIGHT = re.compile(f"[{RIGHT}]")
TURNS = re.compile(f"[{TURNING}]")
RUN = re.compile(rf"[{RIGHT}](?:[\W\d_{RIGHT}]*[{RIGHT}])?")  # from the first such letter to the last before another
ISOLATED = "\u2067{}\u2069"  # right-to-left, and nothing of it reaches what stands beside it


def tidy(text: Any) -> Any:
    """Return typed text as it is stored; anything else untouched.

    >>> tidy(" e\\u0301b\\u0000e\\u0300ne\\r\\n"), tidy("a\\u202egpj.exe"), tidy("\\u200b\\u200e")
    ('ébène', 'agpj.exe', '')
    """
    if not isinstance(text, str):
        return text
    text = unicodedata.normalize("NFC", LINE_ENDS.sub("\n", text))
    if not text.isascii():
        text = TAGS.sub(r"\1", UNSEEN.sub("", text))
    text = "".join(c for c in text if c in "\n\t" or unicodedata.category(c) not in {"Cc", "Cs"}).strip()
    return text if any(map(_is_seen, text)) else ""


def tidy_line(text: Any) -> Any:
    """Return typed text as it is stored where there is room for one line.

    >>> tidy_line("Hall\\r\\n\\ttable")
    'Hall table'
    """
    text = tidy(text)
    return ACROSS_LINES.sub(" ", text) if isinstance(text, str) else text


def _is_seen(character: str) -> bool:
    return unicodedata.category(character)[0] not in "CZ" and character not in BLANK


def isolated(value: Any) -> Any:
    """Return text so that what is written from right to left in it leaves the rest of the line where it is.

    A line that is so throughout is set so as a whole; in a sentence of ours, the names alone.
    """
    if type(value) is not str or value.isascii():
        return value
    value = TURNS.sub("", value)
    return "\n".join(map(_isolated_line, value.split("\n"))) if IS_RIGHT.search(value) else value


def _isolated_line(line: str) -> str:
    if any(unicodedata.bidirectional(sign) == "L" for sign in line):
        return RUN.sub(lambda found: ISOLATED.format(found[0]), line)
    return ISOLATED.format(line) if IS_RIGHT.search(line) else line


def as_is(value: Any) -> Markup:
    """Return text escaped only, for what is isolated already (bdi) and for the values of fields."""
    return escape(value)


def init_app(app: Flask) -> None:
    """Let every text of a page be isolated; what a template made is left as it is."""
    app.jinja_env.finalize = isolated
    app.jinja_env.filters["as_is"] = as_is
