"""The key of an operation: made from its name once, its own in the build, and kept when the name changes."""

import re
from collections.abc import Collection

from webapp.db.folding import fold

LONGEST = 40
NAMELESS = "step"


def key_for(name: str, taken: Collection[str]) -> str:
    """Return a key that no other operation of the build has. It holds no full stop: those mark inserted work."""
    base = re.sub(r"[\W_]+", "-", fold(name)).strip("-")[:LONGEST].strip("-") or NAMELESS
    key, number = base, 2
    while key in taken:
        key, number = f"{base}-{number}", number + 1
    return key
