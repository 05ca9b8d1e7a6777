"""Pieces that hold things: the wall cabinet, the bookcase, the jewellery chest, the tray."""

from webapp.invented.drawings.solids import Solid, box, marked, rod, turned
from webapp.invented.drawings.space import Point

OAK, ELM, PEAR, WALNUT = "oak", "elm", "pear", "walnut"


def carcass(wood: str, wide: float, deep: float, high: float, thick: float, *, at: float = 0.0,
            shelves: tuple[float, ...] = (), back: str | None = None) -> list[Solid]:  # fmt: skip
    """Return an open case: sides, top, bottom, back and shelves; its front is at y = -deep / 2."""
    x, y = wide / 2, deep / 2
    parts = [
        box(wood, (-x, -y, at), (thick, deep, high), "z", pick=1),
        box(wood, (x - thick, -y, at), (thick, deep, high), "z", pick=2),
        box(wood, (-x + thick, -y, at), (wide - 2 * thick, deep, thick), "x", pick=3),
        box(wood, (-x + thick, -y, at + high - thick), (wide - 2 * thick, deep, thick), "x", pick=4),
        box(back or wood, (-x + thick, y - 8, at + thick), (wide - 2 * thick, 8, high - 2 * thick), "z", pick=5,
            under=70),
    ]  # fmt: skip
    for i, height in enumerate(shelves):
        parts.append(
            box(wood, (-x + thick, -y + 4, at + height), (wide - 2 * thick, deep - 12, thick), "x", pick=6 + i)
        )
    return parts


def door(wood: str, left: float, front: float, low: float, wide: float, high: float) -> list[Solid]:
    """Return frame and panel: stiles, rails, and a panel set a little back."""
    stile, thick = 52, 20
    parts = [
        box(wood, (left, front - thick, low), (stile, thick, high), "z", pick=1),
        box(wood, (left + wide - stile, front - thick, low), (stile, thick, high), "z", pick=2),
    ]
    parts += [
        box(wood, (left + stile, front - thick, z), (wide - 2 * stile, thick, stile), "x", pick=3)
        for z in (low, low + high - stile)
    ]
    panel = (wide - 2 * stile, 8, high - 2 * stile)
    parts.append(box(wood, (left + stile, front - 12, low + stile), panel, "z", pick=5, under=12))
    return parts


def wall_cabinet(*, opened: float = 0.0) -> list[Solid]:
    wide, deep, high, thick = 460, 210, 620, 18
    parts = carcass(OAK, wide, deep, high, thick, shelves=(200, 400))
    front = -deep / 2
    leaf = door(OAK, -wide / 2 + 1, front, 1, wide - 2, high - 2)
    leaf += [rod("walnut", (wide / 2 - 27, front - 20, 300), (wide / 2 - 27, front - 42, 300), 20, sides=14)]
    if opened:
        leaf = [turned(part, -opened, (-wide / 2, front)) for part in leaf]
    return [*parts, *leaf]


def bookcase() -> list[Solid]:
    parts = carcass(ELM, 820, 260, 1090, 22, at=60, shelves=(330, 660))
    plinth = box(ELM, (-388, -118, 0), (776, 230, 60), "x", pick=9, under=16)
    return [plinth, *parts]


def chest(wood: str = PEAR) -> list[Solid]:
    """A small chest of three drawers with a lid."""
    wide, deep, high, thick = 320, 220, 200, 12
    parts = carcass(wood, wide, deep, high, thick, at=14)
    front = -deep / 2
    for i, (low, tall) in enumerate(((27, 72), (102, 54), (159, 42))):
        parts.append(box(wood, (-wide / 2 + 13, front + 1, low), (wide - 26, 12, tall), "x", pick=i))
        middle = low + tall / 2
        parts.append(rod("brass", (0, front + 1, middle), (0, front - 14, middle), 12, sides=12))
    parts += [box(wood, (x, y, 0), (26, 26, 14), "x") for x in (-155, 129) for y in (-105, 79)]
    parts.append(box(wood, (-wide / 2 - 6, front - 6, 14 + high), (wide + 12, deep + 12, 14), "x", pick=8))
    return parts


def tray(*, lift: float = 0.0) -> list[Solid]:
    """A tray with slanting-free sides and a slot in each end to take hold of."""
    wide, deep, high, thick = 520, 340, 62, 12
    x, y = wide / 2, deep / 2
    parts = [
        box(WALNUT, (-x + thick, -y + thick, lift), (wide - 2 * thick, deep - 2 * thick, 9), "x", shine=1.0, pick=4),
        box(WALNUT, (-x, -y, lift), (wide, thick, high - 14), "x", pick=1),
        box(WALNUT, (-x, y - thick, lift), (wide, thick, high - 14), "x", pick=2),
    ]
    for side in (-1, 1):
        left = -x if side < 0 else x - thick
        face = left + thick if side < 0 else left
        end = box(WALNUT, (left, -y + thick, lift), (thick, deep - 2 * thick, high), "y", pick=3)
        for look in (left, left + thick):
            slot = [(-52, 30), (52, 30), (52, 48), (-52, 48)]
            if look == left:
                slot = slot[::-1]
            corners = [Point(look, a, lift + b) for a, b in slot]
            end = marked(end, corners, (58, 42, 30) if look == face else (44, 30, 22))
        parts.append(end)
    return parts


def blanket_chest() -> list[Solid]:
    """A chest with a framed front and a lid."""
    wide, deep, high = 980, 430, 430
    front = -deep / 2 - 20
    parts = carcass(OAK, wide, deep, high, 20, at=70)
    parts += [box(OAK, (x, front, 70), (70, 20, high), "z", pick=1) for x in (-490, -35, 420)]
    parts += [box(OAK, (x, front + 1, z), (385, 18, 70), "x", pick=2) for x in (-420, 35) for z in (70, 430)]
    parts += [box(OAK, (x, front + 9, 140), (385, 9, 290), "x", pick=5, under=14) for x in (-420, 35)]
    parts += [box(OAK, (x, y, 0), (80, 60, 70), "z", pick=3) for x in (-490, 410) for y in (front, -front - 80)]
    parts.append(box(OAK, (-wide / 2 - 14, front - 14, 500), (wide + 28, deep + 46, 22), "x", pick=8))
    return parts
