"""What a product's figures mean now in a room, in words: what forbids it, each time beside its figure, the strip."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.planning.begun_now import BegunNow, Joint, Open, Sure, Told, begun_now, joints_now
from webapp.planning.instants import cut
from webapp.products.models import GLUE
from webapp.products.room_air import RoomAir
from webapp.products.strip import Strip, strip
from webapp.products.words import Data, windows
from webapp.trade.air.degrees import difference
from webapp.trade.air.pace import LOOSE
from webapp.trade.air.warmth import WARM_ENOUGH, cold_says
from webapp.trade.products.families import closed_minutes
from webapp.trade.products.joints import clampings
from webapp.trade.waits.cure import Rule
from webapp.web.clock import now
from webapp.web.filters import capital, hours, said, span, temperature
from webapp.web.guard import visitor

NOT_NOW = "not now"


@dataclass(frozen=True)
class Line:
    """One figure: as it stands on the label, and what it comes to here: how long, and until when."""

    label: str
    on_label: str
    here: str
    till: str = ""
    mind: str = ""


@dataclass(frozen=True)
class Meaning:
    """All that the page says of a product in the air of a room."""

    air: RoomAir
    temperature: float | None
    humidity: float | None
    begins: str
    wrong: tuple[str, ...]
    doubts: tuple[str, ...]
    lines: tuple[Line, ...]
    joints: tuple[Line, ...]
    strip: Strip | None
    coldest: float | None
    is_told_to_heat: bool


def meaning(name: str, family: str, use: str, data: Data, air: RoomAir) -> Meaning:
    """Return what the figures of a product mean, were the work done now."""
    begun = begun_now(data, air.history, cut(now()), closed_minutes(name, family))
    wrong = tuple(_wrong(name, use, data, begun))
    doubts = (_cold(begun),) if begun.is_cold and not begun.is_barred else ()
    return Meaning(
        air=air,
        temperature=begun.air.temperature,
        humidity=begun.air.humidity,
        begins="if the clamps are tight now" if use == GLUE else "if it is laid on now",
        wrong=wrong,
        doubts=doubts,
        lines=(*_open_time(begun, data), *(_stage(one, begun) for one in begun.stages), *_windows(begun, data)),
        joints=tuple(_joint(one, begun) for one in _joints(name, family, use, data, air, begun)),
        strip=None if begun.is_barred else strip(begun, use, said),
        coldest=begun.chill.temperature if begun.chill else None,
        is_told_to_heat=bool(wrong or doubts),
    )


def _wrong(name: str, use: str, data: Data, begun: BegunNow) -> Iterator[str]:
    if begun.chill is not None:
        yield _chill(name, "It will not bond" if use == GLUE else "It will not harden", data, begun)
    if begun.humid is not None:
        yield (
            f"Too damp: {begun.humid:g} %, and it stands {data['humidity_max']:g} % at most. It dries longer than the"
            f" label says, nobody knows how much. Warm the room, to {temperature(WARM_ENOUGH)} and up, or dry the air,"
            " and test before the next layer."
        )
    if begun.dew is not None:
        yield (
            f"Too near the dew point: that is {temperature(begun.dew.point)}, {_apart(begun.dew.gap)} under the air,"
            f" and it wants {_apart(data['dew_gap'])}. Water would come out in the film. Warm the room or dry the air."
        )


def _apart(celsius: float) -> str:
    return difference(celsius, visitor().shop.temperature_unit)


def _chill(name: str, says: str, data: Data, begun: BegunNow) -> str:
    assert begun.chill is not None
    cold, needs = temperature(begun.chill.temperature), temperature(data["lowest"])
    long = hours(data.get("lowest_for_hours", 24))
    if begun.chill.at == begun.now:
        return (
            f"{says} here: it is {cold}, and {name} needs {needs} at least, from the work until {long} after."
            " Waiting longer does not help. Warm the wood and the room first."
        )
    return (
        f"{says} if it stays here: {cold} from {said(begun.chill.at)} on, and {name} needs {needs} at least for"
        f" {long} after the work. Keep it warm until {said(begun.chill.until)}."
    )


def _cold(begun: BegunNow) -> str:
    return cold_says(begun.air.temperature or 0.0, visitor().shop.temperature_unit)


def _stage(told: Told, begun: BegunNow) -> Line:
    here, till = _when(told, begun)
    return Line(capital(told.name), hours(told.hours), here, till)


def _when(told: Told, begun: BegunNow) -> tuple[str, str]:
    if told.sure is Sure.LONGER:
        return f"longer than {hours(told.hours)}", Rule.UNKNOWN
    if told.end is None:
        return (NOT_NOW if begun.is_barred else "it stands still, too cold to count"), ""
    if told.sure is Sure.TEST:
        return f"{span(told.end - begun.now)} at least", f"{said(told.end)}, no known rule for the cold: test it"
    return span(told.end - begun.now), said(told.end)


def _open_time(begun: BegunNow, data: Data) -> Iterator[Line]:
    if begun.assembly is not None:
        closed = begun.assembly.closed
        then = f", then {_minutes(closed)} until the clamps are tight" if closed else ""
        here = NOT_NOW if begun.is_barred else _minutes(begun.assembly.open) + then
        yield Line("Open time", span(data["open_minutes"]), here)


def _minutes(count: float) -> str:
    """Whole minutes that are surely there; under one its tenths."""
    return f"{int(count + LOOSE)} min" if count >= 1 else f"{count:.1f} min"


def _windows(begun: BegunNow, data: Data) -> Iterator[Line]:
    for row, window in zip(data.get("recoat", ()), begun.windows, strict=True):
        yield Line("Next layer", windows([row]), *_window(window, begun))


def _window(window: Open, begun: BegunNow) -> tuple[str, str]:
    opens, shuts = window.opens, window.shuts
    if opens.end is None:
        return _when(opens, begun)
    here, till = f"from {span(opens.end - begun.now)}", f"from {said(opens.end)}"
    if shuts is not None and shuts.end is not None:
        here, till = f"{here} to {span(shuts.end - begun.now)}", f"{till} to {said(shuts.end)}"
    return here, f"{till}: test it first" if opens.sure is Sure.TEST else till


def _joints(name: str, family: str, use: str, data: Data, air: RoomAir, begun: BegunNow) -> Sequence[Joint]:
    return joints_now(clampings(name, family), data, air.history, begun.now) if use == GLUE else ()


def _joint(joint: Joint, begun: BegunNow) -> Line:
    label = capital(joint.clamping.joint)
    if joint.told is None:
        return Line(label, "", "not with this glue", mind=joint.clamping.mind)
    here, till = _when(joint.told, begun)
    return Line(label, hours(joint.told.hours), here, till, joint.clamping.mind)
