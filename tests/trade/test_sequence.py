"""The order of steps: panels finished before their frame is closed, veneer on both faces."""

from dataclasses import replace

import pytest

from webapp.trade.sequence import Step, doubts

MILL = Step("mill", "Mill the door parts", "final mill", "door")
EDGE = Step("edge", "Glue up the panel", "glue-up", "door", ("mill",))
CLOSE = Step("close", "Glue up the frame", "glue-up", "door", ("edge",))
OIL = Step("oil", "Oil the panel", "coat", "door", ("edge",))
WAX = Step("wax", "Wax the piece", "coat", "")


def keys(*steps: Step) -> list[str]:
    return [doubt.key for doubt in doubts(steps)]


def test_a_panel_is_finished_before_the_frame_goes_round_it() -> None:
    """TA13: the finish of the door after its frame is glued up: an unfinished line shows when the panel shrinks."""
    [doubt] = doubts((MILL, EDGE, CLOSE, OIL))
    assert doubt.key == "close"
    assert "unfinished line" in doubt.says
    assert "never glue it in" in doubt.says
    assert keys(MILL, EDGE, OIL, CLOSE, WAX) == []
    assert keys(MILL, EDGE, CLOSE, WAX) == ["close"]


def test_what_waits_for_what_rules_over_the_order_shown() -> None:
    """TA13: shown after the frame, yet the frame waits for it; shown before it, yet it waits for the frame."""
    waits = Step("close", "Glue up the frame", "glue-up", "door", ("oil",))
    late = Step("oil", "Oil the panel", "coat", "door", ("sand",))
    sand = Step("sand", "Sand the door", "sand", "door", ("close",))
    assert keys(MILL, EDGE, waits, OIL) == []
    assert keys(MILL, EDGE, late, CLOSE, sand) == ["close"]


@pytest.mark.parametrize(
    "steps",
    [
        (CLOSE, WAX),
        (MILL, EDGE, CLOSE, Step("legs", "Wax the legs", "coat", "base")),
        (EDGE, OIL),
        (Step("a", "Glue up the door", "glue-up", "door"), Step("b", "Oil the door", "coat", "door")),
        (Step("a", "Glue up the base", "glue-up", "panel base"), Step("b", "Oil it", "coat", "panel base")),
        (MILL, EDGE, CLOSE),
        (),
    ],
    ids=[
        "no panel at all",
        "finish of another part",
        "panel itself",
        "no panel named",
        "no frame named",
        "no finish",
        "nothing",
    ],
)
def test_nothing_is_said_where_nothing_is_known(steps: tuple[Step, ...]) -> None:
    assert keys(*steps) == []


def test_panels_may_be_a_part_of_their_own() -> None:
    """TA13."""
    panels = Step("p", "Varnish", "coat", "Panels")
    frames = Step("f", "Glue up doors", "glue-up", "frames")
    assert keys(frames, panels) == ["f"]
    assert keys(panels, frames) == []


def test_a_circle_of_waits_ends() -> None:
    a, b = Step("a", "Glue up panel frame", "glue-up", "", ("b",)), Step("b", "Oil", "coat", "", ("a",))
    assert keys(a, b) == []


@pytest.mark.parametrize(
    ("names", "found"),
    [
        (("Press one face",), ["0"]),
        (("Veneer the show face",), ["0"]),
        (("Veneer one side", "Veneer the back"), []),
        (("Veneer both faces, one side at a time",), []),
        (("Veneer the panels",), []),
    ],
)
def test_veneer_on_one_face_cups(names: tuple[str, ...], found: list[str]) -> None:
    """TA14: (a) one face only is unbalanced; balanced veneer is common practice."""
    assert keys(*(Step(str(number), name, "veneer", "top") for number, name in enumerate(names))) == found


PRESS = Step("press", "Press the panels", "veneer", "top", pressed=True)


@pytest.mark.parametrize(
    ("after", "found"),
    [
        ((Step("cut", "Cut to size", "cut", "top", ("press",)),), ["cut"]),
        ((Step("sand", "Sand", "sand", "top", ("press",)),), ["sand"]),
        ((Step("cut", "Cut to size", "cut", "top", ("press",), rested=("press",)),), []),
        ((Step("r", "Rest", "rest", "top", ("press",)), Step("cut", "Cut to size", "cut", "top", ("r",))), []),
        ((Step("hinge", "Mark out the hinges", "mark out", "top", ("press",)),), []),
    ],
)
def test_panels_rest_after_the_press_before_they_are_cut(after: tuple[Step, ...], found: list[str]) -> None:
    """TA14: (d) 24 h of rest, stickered, before cutting or sanding; a page on pressing veneer cold."""
    assert keys(PRESS, *after) == found
    assert keys(replace(PRESS, pressed=False), *after) == []
