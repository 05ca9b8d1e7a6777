"""Clamps: a steel bar with notches, two iron jaws and a wooden handle, across or along the bench."""

from webapp.invented.drawings.solids import Solid, box, rod


def across(x: float, from_y: float, to_y: float, z: float, *, under: bool = False) -> list[Solid]:
    """Return a long clamp that presses along y, its bar above or under the work."""
    bar_z = z - 30 if under else z + 34
    low, high = min(z, bar_z) - (12 if under else 26), max(z, bar_z) + (26 if under else 14)
    parts = [
        box("steel", (x - 4, from_y - 150, bar_z), (8, to_y - from_y + 190, 22), "y"),
        box("iron", (x - 15, to_y, low), (30, 26, high - low), "z"),
        box("iron", (x - 15, from_y - 30, low), (30, 30, high - low), "z"),
    ]
    screw = z + 8
    parts.append(rod("steel", (x, from_y - 30, screw), (x, from_y - 96, screw), 12))
    parts.append(rod("beech", (x, from_y - 96, screw), (x, from_y - 190, screw), 26, sides=12))
    return parts


def along(y: float, from_x: float, to_x: float, z: float, *, reach: float = 60) -> list[Solid]:
    """Return a long clamp that presses along x, its bar in front of the work."""
    bar_y = y - reach
    parts = [box("steel", (from_x - 60, bar_y, z - 11), (to_x - from_x + 250, 8, 22), "x")]
    for x in (from_x - 26, to_x):
        parts.append(box("iron", (x, bar_y - 6, z - 16), (26, reach + 26, 32), "x"))
    parts.append(rod("steel", (to_x + 26, y, z), (to_x + 92, y, z), 12))
    parts.append(rod("beech", (to_x + 92, y, z), (to_x + 186, y, z), 26, sides=12))
    return parts
