"""What other pages show of it: the line on every page of the invented shop, and the offer beside starting one's own."""

from typing import Any

from flask import g, render_template


def line_panel(_subject: Any) -> str:
    """Return the thin line that says where one is, with the way out."""
    return render_template("invented/_line.html")


def offer_panel(_subject: Any) -> str:
    """Return the offer to look round first; nothing to whoever stands in the invented shop already."""
    if g.visitor is not None and g.visitor.shop_facts is not None and g.visitor.shop.is_invented:
        return ""
    return render_template("invented/_offer.html")
