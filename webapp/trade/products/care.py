"""What a piece needs between dry to the touch and cured: it may be handed over, and is not yet to be used as one likes.

Not modelled: heat, sun and children.
"""

from collections.abc import Collection

from webapp.trade.products.figures import FINISH, GLUE


def care(curing: Collection[str]) -> str:
    """Return what whoever has a piece is told until it is fully cured.

    Takes:   what still cures on it: "finish", "glue".
    Returns: a sentence or two; nothing where nothing cures.
    Raises:  nothing.
    Source:  a finisher's question page; of glue: common practice, no source.

    >>> care(["glue"])
    'Do not load its joints.'
    """
    says = {
        FINISH: "Use it lightly: no mats or cloths left lying on it, nothing hot or wet, no wax or polish.",
        GLUE: "Do not load its joints.",
    }
    return " ".join(text for use, text in says.items() if use in curing)
