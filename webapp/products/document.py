"""From a product's figures to the shop document."""

from typing import Any

from webapp.products.models import Figures


def product_mapping(name: str, figures: Figures) -> dict[str, Any]:
    """Return the figures as a product of the shop document, under the name it goes by there; what is null is left out."""
    known = {key: value for key, value in figures.data.items() if value is not None}
    return {"name": name, "family": figures.product.family, **known}
