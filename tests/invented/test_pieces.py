"""The tables of the invented shop: they agree with each other, and with the words of the house."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest

from webapp.invented import place
from webapp.invented.drawings.album import PICTURES, SKETCHES
from webapp.invented.pieces import PIECES
from webapp.invented.script import Piece
from webapp.invented.waits import hours_of
from webapp.trade import lengths
from webapp.trade.kinds import KINDS
from webapp.trade.products.families import USUAL

NOT_USED = ["task", "ticket", "card", "sprint", "backlog", "kanban", "issue", "milestone", "workspace", "asset"]


def texts(thing: object) -> Iterator[str]:
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, tuple):
        for part in thing:
            yield from texts(part)
    elif is_dataclass(thing):
        for one in fields(thing):
            yield from texts(getattr(thing, one.name))


def test_no_word_is_used_that_the_house_does_not_use() -> None:
    """“Board” is missing from the list: here it is a piece of wood."""
    said = [text for piece in PIECES for text in texts(piece)]
    wrong = [text for text in said if {*NOT_USED, "finished"} & set(re.findall(r"[a-z]+", text.casefold()))]
    assert wrong == []


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.key)
def test_steps_name_what_is_there(piece: Piece) -> None:
    steps = {step.key: step for step in piece.steps}
    assert len(steps) == len(piece.steps)
    kinds, products = {kind.name for kind in KINDS}, {family.name for family in USUAL}
    equipment = dict(place.EQUIPMENT)
    for step in piece.steps:
        assert step.kind in kinds, step.key
        assert not step.product or step.product in products
        assert all(count <= equipment[name] for name, count in step.holds)
        assert not step.over or step.over in steps
        assert not step.again_for or steps[step.again_for].given_up
        for earlier, _, stage in (name.partition(": ") for name in step.after):
            assert not stage or stage in hours_of(steps[earlier]), (step.key, stage)


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.key)
def test_parts_can_be_read_in_both_units(piece: Piece) -> None:
    for cut in piece.cuts:
        for unit in ("mm", "in"):
            assert len([lengths.read(text, unit) for text in cut.sizes(unit)]) == 3
        metric = [lengths.read(text, "mm").nanometres for text in cut.sizes("mm")]
        inches = [lengths.read(text, "in").nanometres for text in cut.sizes("in")]
        assert all(abs(a - b) <= max(1_000_000, a * 0.02) for a, b in zip(metric, inches, strict=True)), cut


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.key)
def test_payments_are_the_whole_price(piece: Piece) -> None:
    assert sum(stage.percent for stage in piece.stages) == (100 if piece.price else 0)


def test_every_picture_is_used_once_and_each_piece_has_one_cover() -> None:
    shots = [shot for piece in PIECES for shot in (*piece.shots, *(s for step in piece.steps for s in step.shots))]
    assert sorted(shot.picture for shot in shots) == sorted([*PICTURES, *SKETCHES])
    for piece in PIECES:
        covers = [shot for shot in (*piece.shots, *(s for step in piece.steps for s in step.shots)) if shot.cover]
        assert len(covers) == 1, piece.key


@pytest.mark.parametrize(
    ("zone", "length"),
    [("America/New_York", "in"), ("America/Indiana/Knox", "in"), ("America/Toronto", "mm"), ("UTC", "mm")],
)
def test_units_go_by_the_place(zone: str, length: str) -> None:
    assert place.units(zone).length == length
