"""A version of a product's figures as the shop document has it."""

from collections.abc import Container
from copy import deepcopy
from typing import Any

from webapp.products.models import Figures


def product_mapping(name: str, figures: Figures, known: Container[str] | None = None) -> dict[str, Any]:
    """Return a product of the shop document, in °C; what is null is left out.

    The name is given, since one document may hold two versions of one product. With `known`, the names and families of
    the document, windows over layers that are not in it are left out: a document may not refer to what it lacks.
    """
    data = {key: value for key, value in deepcopy(figures.data).items() if value is not None}
    over = data.get("recoat_over", {})
    data["recoat_over"] = {layer: windows for layer, windows in over.items() if known is None or layer in known}
    return {"name": name, "family": figures.product.family, **data}
