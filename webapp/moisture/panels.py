"""What other pages show of moisture: the database is asked once for all lines that the page has loaded."""

from typing import Any

from flask import g, render_template

from webapp.db.session import session
from webapp.moisture.models import MaterialMoisture
from webapp.moisture.overview import readings
from webapp.moisture.subjects import standing
from webapp.stock.models import Material

WOOD = "wood"


def stock_panel(_: None) -> str:
    """Return the way from the stock to its moisture."""
    return render_template("moisture/_stock.html")


def material_panel(material: Material) -> str:
    """Return the newest reading of the boards of a line of a bill, and the way to all; nothing where it is no wood."""
    if material.kind != WOOD:
        return ""
    last = _last(material)
    return render_template("moisture/_material.html", material=material, last=last)


def _last(material: Material) -> Any:
    known: dict[int, Any] = g.setdefault("moisture_of_materials", {})
    if material.id not in known:
        loaded = [row for row in session().identity_map.values() if isinstance(row, Material)]
        wanted = [row.id for row in (material, *loaded) if row.id not in known]
        found = readings(session(), MaterialMoisture, MaterialMoisture.material_id, wanted)
        for key in wanted:
            read = standing(found.get(key, []))
            known[key] = read[-1] if read else None
    return known[material.id]
