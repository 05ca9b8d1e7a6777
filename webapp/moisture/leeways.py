"""The slot, groove or gap that a part needs, in a sentence."""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from webapp.moisture.models import LEEWAYS, Leeway
from webapp.moisture.moving import Moves
from webapp.trade import lengths
from webapp.trade.wood.movement import MovementError
from webapp.trade.wood.movement_gaps import inset, panel
from webapp.trade.wood.movement_slots import slot
from webapp.web.guard import visitor

KINDS = {"slot": "A screw through it", "panel": "A panel in grooves", "inset": "A drawer or slab door in an opening"}
SAID = {"hold": "held when dry", "clear": "gap when damp"}


@dataclass(frozen=True)
class Needs:
    """One thing a part needs room for: what was typed, and the answer, or why there is none."""

    row: Leeway
    title: str
    typed: str
    answer: str
    warns: bool


def short(nanometres: int | Fraction) -> str:
    """Return a length as callipers have it: 0.79 in, 20 mm."""
    unit = visitor().shop.length_unit
    return lengths.show_decimal(nanometres, unit, 2 if unit == "in" else 1).removeprefix("about ")


def needs(row: Leeway, moves: Moves) -> Needs:
    """Return what one thing needs at the moisture of today."""
    typed = ", ".join(f"{SAID.get(name, name)} {getattr(row, f'{name}_typed')}" for name in LEEWAYS[row.kind])
    if moves.season is None:
        return Needs(row, KINDS[row.kind], typed, moves.why, warns=False)
    try:
        answer, warns = ANSWERS[row.kind](row, moves)
    except MovementError as error:
        answer, warns = str(error), True
    return Needs(row, KINDS[row.kind], typed, answer, warns)


def _nm(row: Leeway, name: str) -> int:
    return lengths.read(getattr(row, f"{name}_typed"), visitor().shop.length_unit).nanometres


def _slot(row: Leeway, moves: Moves) -> tuple[str, bool]:
    assert moves.season
    found = slot(_nm(row, "distance"), _nm(row, "screw"), moves.species, moves.part.cut, moves.season)
    assert found
    says = (
        f"Slot {short(found.length)} long: from where the screw sits today it goes {short(found.inward)} towards the "
    )
    return f"{says}line held fast and {short(found.outward)} away from it.", False


def _panel(row: Leeway, moves: Moves) -> tuple[str, bool]:
    assert moves.season
    sizes = (_nm(row, name) for name in LEEWAYS["panel"])
    opening, groove, hold = sizes
    found = panel(opening, groove, moves.species, moves.part.cut, moves.season, hold=hold)
    assert found
    if found.width is None or found.gap is None:
        return f"The groove is too shallow: it needs {short(found.groove_needed)}.", True
    says = (
        f"Cut it {short(found.width)} wide today, {short(found.gap)} to the bottom of each groove. By the dry season "
    )
    says += f"{short(found.shows)} comes out of each: coat it before the frame goes round it, and never glue it in."
    return says, False


def _inset(row: Leeway, moves: Moves) -> tuple[str, bool]:
    assert moves.season
    found = inset(_nm(row, "opening"), moves.species, moves.part.cut, moves.season, clear=_nm(row, "clear"))
    assert found
    says = f"Cut it {short(found.size)} today: a gap of {short(found.today)} in all, {short(found.dry)} in the dry "
    return f"{says}season and {short(found.wet)} in the damp one.", False


ANSWERS: dict[str, Callable[[Leeway, Moves], tuple[str, bool]]] = {"slot": _slot, "panel": _panel, "inset": _inset}
