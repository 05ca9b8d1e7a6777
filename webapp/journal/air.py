"""What the air of the room does to glue and finish: before it is opened, and to what was made with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from webapp.builds.models import PAST
from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.planning import instants
from webapp.planning.begun_now import is_slow
from webapp.planning.cold import Cold
from webapp.planning.laid import Chill
from webapp.planning.network import Product
from webapp.planning.planned import FlagName
from webapp.planning.reading import stages
from webapp.planning.wording import percent, when
from webapp.trade.air.climate import Air, History
from webapp.trade.air.degrees import degrees, difference
from webapp.trade.air.rules import damp
from webapp.trade.air.warmth import cold_says, is_colder
from webapp.trade.waits import cure
from webapp.web.filters import capital, hours, span

_AFTER_DAMP = "Warm the room or dry the air; look whether it is dull or soft, and test it before the next layer."
TOO_COLD, SUSPECT = FlagName.TOO_COLD.value, FlagName.SUSPECT_JOINT.value


@dataclass(frozen=True, slots=True)
class Against:
    """Something in the air that speaks against opening a tin: the flag it goes by, in words, and until when."""

    flag: str
    says: str
    until: datetime | None = None


@dataclass(frozen=True, slots=True)
class Doubt:
    """What the air may have done to a joint or a film, or is about to do: in words, and what is asked of a maker.

    `flag` is what he answers for who says that it is good; nothing where there is nothing to answer.
    """

    says: str
    title: str
    flag: str = ""
    answer: str = ""

    @property
    def warms(self) -> bool:
        """Whether it says to warm the room, or to keep it warm."""
        return self.flag != SUSPECT


def against(scene: Scene, step: Step) -> Iterator[Against]:
    """Yield what speaks against working with an operation's product now, for as long as the work will take."""
    product, history, now = scene.product(step), scene.air(step), instants.cut(scene.now)
    if TOO_COLD not in scene.state(step).overruled:
        yield from _cold(scene, step, product)
    if history.humidities.at(now, None) is not None:  # by what was read; the usual humidity is a guess
        yield from _damp(product, history.at(now), scene.stage.unit)


def slow(scene: Scene, step: Step) -> str:
    """Return what is said before work that would begin where it is colder than a label means without a rule for it.

    Nothing once it was begun. For whoever has asked already that the air does not speak against it altogether.
    """
    if scene.state(step).started is not None:
        return ""
    celsius = scene.air(step).at(instants.cut(scene.now)).temperature
    if celsius is None or not is_slow(scene.product(step), celsius):
        return ""
    return cold_says(celsius, scene.stage.unit)


def chill(scene: Scene, step: Step) -> Chill | None:
    """Return the cold that work which was begun has met by the readings, or that is to be expected."""
    return scene.once(("chill", step.id), lambda: _chill(scene, step))


def _chill(scene: Scene, step: Step) -> Chill | None:
    state, now = scene.state(step), instants.cut(scene.now)
    cold = Cold.of(scene.product(step), scene.air(step))
    if cold is None or state.started is None or state.abandoned_at is not None:
        return None
    end = now if state.finished is None else instants.up(state.finished)
    return cold.judged(instants.cut(state.started), end, now, vouched=SUSPECT in state.overruled)


def doubt(scene: Scene, step: Step) -> Doubt | None:
    """Return what the air has done to work that was begun, or is about to: the cold first, then the damp."""
    found = chill(scene, step)
    return _dampened(scene, step) if found is None else _chilled(scene, step, found)


def _chilled(scene: Scene, step: Step, found: Chill) -> Doubt:
    product = scene.product(step)
    cold = f"{_degrees(scene, found.temperature)} {_on(scene, found.at)}"
    needs = f"{product.name} needs {_degrees(scene, product.lowest or 0.0)} until {_clock(scene, found.until)}"
    if found.spoils:
        mends = "The film may not have formed, and warming it now does not mend it."
        return Doubt(f"It was {cold}; {needs}. {mends}", "does it hold?", SUSPECT, "It holds")
    return Doubt(f"{cold}, and {needs}. Keep it warm until then.", "cold ahead")


def _dampened(scene: Scene, step: Step) -> Doubt | None:
    """Air that was read while a product was put on, too damp for it, until somebody has looked or gone on."""
    state, product = scene.state(step), scene.product(step)
    if (product.humidity_max, product.dew_gap) == (None, None) or state.started is None or _is_settled(scene, step):
        return None
    end = instants.cut(scene.now) + 1 if state.finished is None else instants.up(state.finished)
    for air in _read_damp(scene.air(step), instants.cut(state.started), end):
        for one in _damp(product, air, scene.stage.unit):
            if one.flag not in state.overruled:
                met = f"{capital(one.says)}. So it was {_on(scene, air.begin)}, while it was put on."
                return Doubt(f"{met} {_AFTER_DAMP}", "is it good?", one.flag, "It is good")
    return None


def _is_settled(scene: Scene, step: Step) -> bool:
    """Whether it was given up, tested, gone over since, or is out of the shop."""
    state = scene.state(step)
    if state.reached or state.abandoned_at is not None or scene.builds[step.build_id].status in PAST:
        return True
    return scene.is_overtaken(step)


def _read_damp(history: History, begin: int, end: int) -> Iterator[Air]:
    """The air of a span as far as its humidity was read: the usual one is a guess."""
    for held in history.humidities.over(begin, end):
        yield from history.pieces(held.begin, held.end)


def pace_words(scene: Scene, step: Step, stage: str, begin: datetime, end: datetime) -> str:
    """Return what the temperature has to do with the end of a stage: nothing where it is as on the label."""
    product, air = scene.product(step), scene.air(step)
    paced = cure.paced(product.stages, stages(step.stages or ()), product.pace)
    one = next((one for one in paced if one.name == stage), None)
    if one is None or one.pace.rated_at is None:
        return ""
    rated, began, ends = _degrees(scene, one.pace.rated_at), instants.cut(begin), instants.cut(end)
    coldest, now = air.coldest(began, ends), air.at(instants.cut(scene.now)).temperature
    if one.rule is cure.Rule.DOUBLES and now is not None and ends - began > one.minutes + 1:
        return f"{_degrees(scene, now)} now; the label’s {span(round(one.minutes))} is for {rated}"
    if one.rule is cure.Rule.UNKNOWN and is_colder(coldest, one.pace.rated_at):
        return f"colder than the label’s {rated}, and no rule is known: test it"
    return ""


def _degrees(scene: Scene, celsius: float) -> str:
    return degrees(celsius, scene.stage.unit)


def _clock(scene: Scene, instant: int) -> str:
    """The time, with its day where that is not today."""
    today = when(instants.cut(scene.now), scene.zone)[: -len("00:00")]
    return when(instant, scene.zone).removeprefix(today)


def _on(scene: Scene, instant: int) -> str:
    *day, clock = _clock(scene, instant).split()
    return f"on {' '.join(day)} at {clock}" if day else f"at {clock}"


def _cold(scene: Scene, step: Step, product: Product) -> Iterator[Against]:
    cold, now = Cold.of(product, scene.air(step)), instants.cut(scene.now)
    met = None if cold is None else cold.ahead(now, now + step.minutes)
    if cold is None or met is None:
        return
    at = "" if met.at == now else f" {_on(scene, met.at)}"
    warm = cold.warm_from(now, step.minutes)
    yield Against(
        TOO_COLD,
        f"{_degrees(scene, met.temperature)}{at} is too cold for {product.name}: it needs "
        f"{_degrees(scene, product.lowest or 0.0)} until {hours(product.lowest_for_hours)} after the work",
        instants.moment(warm) if cold.again(warm, warm + step.minutes) is None else None,
    )


def _damp(product: Product, air: Air, unit: str) -> Iterator[Against]:
    found = damp(air, product.humidity_max, product.dew_gap)
    if found.humid is not None:
        most = percent(product.humidity_max or 0.0)
        says = f"{percent(found.humid)} humidity: {product.name} stands {most} at most"
        yield Against(FlagName.TOO_HUMID.value, says)
    if found.dew is not None:
        near, wanted = difference(found.dew.gap, unit), difference(product.dew_gap or 0.0, unit)
        says = f"the dew point is only {near} below the air: {product.name} wants {wanted}"
        yield Against(FlagName.DEW_POINT.value, says)
