"""The chains of the methods, without a shop: what waits for what."""

import itertools

import pytest

from webapp.builds.methods import METHODS, USUAL_HOURS, Step, chained, last_coat
from webapp.trade.kinds import KINDS, kind

KEYS = [method.key for method in METHODS]
EVERY_CHOICE = [keys for count in range(len(KEYS) + 1) for keys in itertools.combinations(KEYS, count)]


def steps(*keys: str) -> dict[str, Step]:
    return {step.key: step for step in chained(keys)}


def before(key: str, chain: dict[str, Step]) -> set[str]:
    """All that must be done before a step."""
    step = chain[key]
    named = {wait.step for wait in step.after} | ({step.over} if step.over else set())
    return named.union(*(before(one, chain) for one in named))


@pytest.mark.parametrize("keys", EVERY_CHOICE, ids=lambda keys: "+".join(keys) or "none")
def test_whatever_is_chosen_hangs_together(keys: tuple[str, ...]) -> None:
    chain = steps(*keys)
    for key, step in chain.items():
        assert key not in before(key, chain)  # and every step that is named is there
        assert kind(step.kind) in KINDS
        assert step.minutes > 0
        assert all(wait.stage is None or wait.stage in USUAL_HOURS or wait.stage == "rested" for wait in step.after)
    assert {step.key.partition(".")[0] for step in chain.values()} == set(keys)
    assert len({(step.name) for step in chain.values()}) == len(chain)


def test_a_panel_is_finished_before_the_frame_goes_round_it() -> None:
    """TA13: both coats are on before the frame is glued, and the panel is not glued in."""
    for keys in (["frame-and-panel"], ["frame-and-panel", "oil-finish"], ["frame-and-panel", "film-finish"]):
        chain = steps(*keys)
        assert {"frame-and-panel.coat1", "frame-and-panel.coat2"} < before("frame-and-panel.glue", chain)
        assert "loose" in chain["frame-and-panel.glue"].name


def test_a_panel_rests_after_the_glue_up_before_it_is_planed() -> None:
    """TA03: planing waits for the joints to dry out, which is another end than out of clamps."""
    plane = steps("edge-glued-panel")["edge-glued-panel.plane"]
    assert [(wait.step, wait.stage) for wait in plane.after] == [("edge-glued-panel.glue", "ready to plane")]
    assert USUAL_HOURS["ready to plane"] == 7 * 24 > USUAL_HOURS["out of clamps"]


def test_a_drawer_is_glued_after_its_dry_fit_and_cut_when_the_base_stands() -> None:
    chain = steps("drawer", "table-base")
    assert "drawer.fit" in before("drawer.glue", chain)
    assert "table-base.glue" in before("drawer.size", chain)
    assert not any("table-base" in wait.step for step in steps("drawer").values() for wait in step.after)


def test_the_finish_waits_for_all_the_woodwork() -> None:
    chain = steps(*KEYS)
    assert {"edge-glued-panel.size", "frame-and-panel.level", "table-base.level", "drawer.opening"} < before(
        "oil-finish.coat1", chain
    )


def test_a_film_over_an_oil_follows_its_last_coat_without_sanding_it_off() -> None:
    chain = steps("oil-finish", "film-finish")
    assert chain["film-finish.coat1"].over == "oil-finish.coat3"
    assert "film-finish.sand" not in chain
    assert "film-finish.sand" in steps("film-finish")


def test_the_last_coat_of_the_piece_stands_light_use_at_the_hand_over() -> None:
    assert last_coat(chained(["frame-and-panel"])) is None
    last = last_coat(chained(KEYS))
    assert last
    assert last.key == "film-finish.coat3"
