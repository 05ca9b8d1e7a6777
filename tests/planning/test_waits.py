"""The parts of a wait, as they are drawn and said."""

from webapp.planning.waits import Mark, parts

PVA = {"out of clamps": 60, "full strength": 1440, "ready to plane": 10080}


def test_glue_nobody_waits_for_is_only_in_clamps() -> None:
    assert [(part.mark, part.end) for part in parts(0, PVA, "glue", [], [])] == [(Mark.CLAMPED, 60)]


def test_clamps_held_longer_are_drawn_longer() -> None:
    assert parts(0, PVA, "glue", ["full strength"], [])[0].end == 1440


def test_a_finish_cures_until_what_is_waited_for() -> None:
    ends = {"dust free": 360, "light use": 1440, "full cure": 43200}
    assert [(part.mark, part.end) for part in parts(0, ends, "finish", [], ["light use"])] == [(Mark.CURING, 1440)]
    assert parts(0, ends, "finish", [], [])[0].stage == "dust free"


def test_a_stage_never_reached_has_no_part() -> None:
    assert parts(0, {"out of clamps": None}, "glue", [], []) == ()


def test_wood_rests() -> None:
    assert [part.mark for part in parts(0, {"rested": 4320}, None, [], ["rested"])] == [Mark.RESTING]
