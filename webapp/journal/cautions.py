"""The caution that belongs to the moment a finish is laid down: what becomes of the rags."""

from webapp.journal.scene import Label
from webapp.trade.cautions.work import RAGS, Caution, caution, for_product


def after_done(label: Label | None) -> Caution | None:
    """Return the caution about oily rags where the product is of a family that has it."""
    return caution(RAGS) if label and RAGS in for_product(label.name, label.family) else None
