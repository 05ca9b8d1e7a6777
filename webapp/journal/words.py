"""What the screen says of operations, waits and lines of the journal."""

from collections.abc import Callable, Mapping
from datetime import datetime

from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.planning.entry import Entry, utc
from webapp.planning.record import OperationState, State
from webapp.web.clock import now
from webapp.web.filters import capital, day, when, work_span

SHOP_TIMES = ("Sharpening", "Sweeping", "Quoting", "Fetching wood")
TENDING = {"wipe": "Wipe it off", "look": "Look for bleed-out", "scrape": "Scrape the squeeze-out", "buff": "Buff it"}


def tending_words(key: str) -> str:
    """Return what a tending asks for."""
    return TENDING.get(key) or capital(key)


def state_words(scene: Scene, operation: Step) -> str:
    """Return where an operation stands, in one line."""
    state = scene.state(operation)
    return _STATES[state.state](state, operation)


def _worked(state: OperationState, operation: Step) -> str:
    if not state.worked_minutes:
        return f"estimated {work_span(operation.minutes)}"
    return f"{work_span(state.worked_minutes)} worked, estimated {work_span(operation.minutes)}"


def _not_started(_state: OperationState, operation: Step) -> str:
    return f"about {work_span(operation.minutes)}"


def _in_hand(state: OperationState, operation: Step) -> str:
    since = max((one.start for one in state.spans if one.end is None), default=state.as_of)
    return f"in hand since {when(since)} · {_worked(state, operation)}"


def _paused(state: OperationState, operation: Step) -> str:
    return f"paused · {_worked(state, operation)}"


def _done(state: OperationState, _operation: Step) -> str:
    is_today = state.finished is not None and day(state.finished) == day(now())
    at = f"done {when(state.finished) if is_today else day(state.finished)}" if state.finished else "done"
    return f"{at} · took {work_span(state.worked_minutes)}" if state.worked_minutes else at


def _abandoned(state: OperationState, operation: Step) -> str:
    at = f"abandoned {when(state.abandoned_at)}" if state.abandoned_at else "abandoned"
    return f"{at} · {_worked(state, operation)}"


_STATES: Mapping[State, Callable[[OperationState, Step], str]] = {
    State.NOT_STARTED: _not_started,
    State.IN_HAND: _in_hand,
    State.PAUSED: _paused,
    State.WAITING: _done,
    State.DONE: _done,
    State.ABANDONED: _abandoned,
}


def entry_words(entry: Entry) -> str:
    """Return what a line of the journal says, without its note."""
    return _KINDS.get(entry.kind, _plain)(entry)


def entry_note(entry: Entry) -> str:
    """Return the words a maker typed with a line."""
    return "\n".join(text for key in ("note", "reason", "early") if (text := entry.word(key)))


def _plain(entry: Entry) -> str:
    return entry.kind.capitalize()


def _begun(entry: Entry) -> str:
    word = "Started" if entry.kind == "started" else "Went on"
    early = ", before its wait was over" if entry.word("early") else ""
    return f"{word}{_about(entry)}{early}"


def _about(entry: Entry) -> str:
    shop_time = entry.word("shop_time") if entry.operation is None else None
    return f": {shop_time}" if shop_time else ""


def _remembered(entry: Entry) -> str:
    minutes = entry.number("minutes")
    return f", {work_span(minutes)} remembered" if minutes else ""


def _reached(entry: Entry) -> str:
    return str(entry.word("stage")).capitalize()


def _tested(entry: Entry) -> str:
    stage, answer = entry.word("stage"), entry.word("answer")
    if answer == "dry" and stage == "tacky":
        return "Looked: hard already"
    if answer == "dry":
        return "Looked: dry" if stage in ("dry", "dust free") else f"Looked: {stage}"
    return f"Looked: {answer}, to look again {when(_again(entry))}"


def _again(entry: Entry) -> datetime:
    return utc(entry.data["again_at"])


_KINDS: Mapping[str, Callable[[Entry], str]] = {
    "started": _begun,
    "resumed": _begun,
    "paused": lambda entry: f"Paused{_about(entry)}",
    "done": lambda entry: f"Done{_remembered(entry)}",
    "worked": lambda entry: f"Worked{_remembered(entry)}",
    "abandoned": lambda _: "Abandoned",
    "spread": lambda _: "Glue on",
    "clamped": lambda _: "Clamps tight",
    "reached": _reached,
    "dry-tested": _tested,
    "tended": lambda entry: f"{tending_words(str(entry.word('key')))}: done",
    "counted": lambda entry: f"{entry.number('done')} done so far",
    "noted": lambda _: "Note",
    "sized": lambda entry: f"{entry.word('name')}: {entry.word('actual')}" if entry.word("actual") else "Measured",
    "overruled": lambda entry: f"Decided in spite of: {str(entry.word('flag')).replace('-', ' ')}",
    "photographed": lambda _: "Photo",
}
