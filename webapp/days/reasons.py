"""Why a date is what it is, in one plain sentence."""

from collections.abc import Callable, Mapping

from webapp.planning.planned import Because, Why

When = Callable[[int], str]
Names = Mapping[tuple[str, str], str]  # (build, key) -> the operation's name

PLAIN = {
    Why.NOT_BEFORE: "Not before {until}, as you set it.",
    Why.PINNED: "You fixed it to {until}.",
    Why.WILL_NOT_FIT: "It must be done in one go and did not fit before closing.",
    Why.SHOP_SHUT: "The shop is shut until {until}.",
    Why.NOW: "Nothing holds it: it can start now.",
    Why.PLAN: "Nothing holds it; the plan puts other work first.",
    Why.COLD: "Too cold until {until}.",
    Why.DUST: "Dust would settle in it until {until}.",
    Why.EQUIPMENT: "The clamps it needs are taken until {until}.",
    Why.ROOM: "The room is taken until {until}.",
    Why.MAKER: "Hands are busy until {until}.",
}
WITH_OTHER = {
    Why.ORDER: "After {other}, until {until}.",
    Why.STAGE: "{other} must be {stage} first: {until}.",
    Why.RECOAT: "The coat before it ({other}) allows it from {until}.",
    Why.MAKER: "Hands are busy with {other} until {until}.",
    Why.EQUIPMENT: "{other} holds the equipment until {until}.",
    Why.ROOM: "{other} stands in the room until {until}.",
    Why.DUST: "{other} and dust do not go together until {until}.",
}


def sentence(because: Because | None, build: str, names: Names, when: When) -> str:
    """Return what kept an operation of that build from starting earlier; nothing when nothing is to be said."""
    if because is None:
        return ""
    until = when(because.until) if because.until is not None else ""
    other = _other(because, build, names)
    text = WITH_OTHER.get(because.why) if other else None
    text = text or PLAIN.get(because.why, "")
    return text.format(until=until, other=other, stage=because.stage or "done")


def _other(because: Because, build: str, names: Names) -> str:
    if because.operation is None:
        return ""
    where = because.build or build
    name = names.get((where, because.operation), because.operation)
    return f"“{name}”" if where == build else f"“{name}” of {where}"
