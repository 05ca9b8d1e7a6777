"""The caution that belongs to the moment a finish is laid down: what becomes of the rags."""

from webapp.journal.scene import Label
from webapp.trade.cautions import Caution, caution
from webapp.trade.families import FAMILIES

RAGS = "oily-rags"


def after_done(label: Label | None) -> Caution | None:
    """Return the caution about oily rags where the product is of a family that has it."""
    if label is None:
        return None
    own = [one for one in FAMILIES if one.name == label.name] or [one for one in FAMILIES if one.family == label.family]
    return caution(RAGS) if any(RAGS in one.cautions for one in own) else None
