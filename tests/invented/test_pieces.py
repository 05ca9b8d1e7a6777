"""The tables of the invented shop: they agree with each other, and with the words of the house."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest

from webapp.invented import place
from webapp.invented.drawings.album import PICTURES, SKETCHES
from webapp.invented.pieces import PIECES
from webapp.invented.script import Cut, Piece, Size
from webapp.invented.waits import hours_of
from webapp.trade import lengths
from webapp.trade.kinds import KINDS
from webapp.trade.products.families import USUAL
from webapp.trade.sizes.fit_classes import KINDS as FITS
from webapp.trade.wood.movement import CUTS
from webapp.trade.wood.species import find

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


def in_both_units(cut: Cut) -> Iterator[tuple[str, str]]:
    """Each length of a part, in millimetres and in inches."""
    yield from zip(cut.sizes("mm"), cut.sizes("in"), strict=True)
    for need in cut.needs:
        yield from zip(need.metric.split(" x "), need.us.split(" x "), strict=True)
    for watch in cut.watches:
        yield from ((one.metric, one.us) for one in (watch, *watch.looks))


def sizes_in_both_units(size: Size, piece: Piece) -> Iterator[tuple[str, str]]:
    yield size.metric, size.us
    yield size.off
    for step in piece.steps:
        yield from ((one.metric, one.us) for one in step.measured if one.size == size.name)


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.key)
def test_lengths_are_about_the_same_in_both_units(piece: Piece) -> None:
    pairs = [pair for cut in piece.cuts for pair in in_both_units(cut)]
    assert all(len(cut.sizes(unit)) == 3 for cut in piece.cuts for unit in ("mm", "in"))
    for metric, us in pairs + [pair for size in piece.sizes for pair in sizes_in_both_units(size, piece)]:
        mm, inches = lengths.read(metric, "mm").nanometres, lengths.read(us, "in").nanometres
        assert abs(mm - inches) <= max(1_000_000, mm * 0.02), (metric, us)


@pytest.mark.parametrize("piece", PIECES, ids=lambda piece: piece.key)
def test_sizes_and_what_was_measured_name_what_is_there(piece: Piece) -> None:
    sizes, parts = {size.name for size in piece.sizes}, {cut.name for cut in piece.cuts}
    assert {one.size for step in piece.steps for one in step.measured} <= sizes
    assert {size.part for size in piece.sizes} <= parts | {""}
    assert all(size.into in sizes and size.fit in FITS for size in piece.sizes if size.into)


def test_the_woods_are_those_whose_movement_is_known_but_for_one() -> None:
    """Of pear the handbook's table has nothing: there the shop shows what it says where it knows nothing."""
    assert [piece.wood for piece in PIECES if find(piece.wood) is None] == ["pear"]
    assert {cut.sawn for piece in PIECES for cut in piece.cuts} <= set(CUTS)


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
