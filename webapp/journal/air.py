"""What the air of the room does to glue and finish: before it is opened, and to what was made with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from webapp.builds.steps import Step
from webapp.journal.scene import Scene
from webapp.planning import instants
from webapp.planning.cold import Cold
from webapp.planning.network import Product
from webapp.planning.planned import FlagName
from webapp.planning.reading import stages
from webapp.planning.wording import degrees, difference, percent, span, when
from webapp.trade import cure
from webapp.trade.air import AirError, dew_point
from webapp.trade.climate import Air
from webapp.trade.cure import wait_minutes
from webapp.trade.pace import LOOSE

TOO_COLD, SUSPECT = FlagName.TOO_COLD.value, FlagName.SUSPECT_JOINT.value


@dataclass(frozen=True, slots=True)
class Against:
    """Something in the air that speaks against opening a tin: the flag it goes by, in words, and until when."""

    flag: str
    says: str
    until: datetime | None = None


@dataclass(frozen=True, slots=True)
class Doubt:
    """Cold that a joint or a film has met, or is to meet: `spoiled` where it may not have formed."""

    says: str
    spoiled: bool


def against(scene: Scene, step: Step) -> Iterator[Against]:
    """Yield what speaks against working with an operation's product now, for as long as the work will take."""
    product, history, now = scene.product(step), scene.air(step), instants.cut(scene.now)
    if TOO_COLD not in scene.state(step).overruled:
        yield from _cold(scene, step, product)
    if history.humidities.at(now, None) is not None:  # by what was read; the usual humidity is a guess
        yield from _damp(product, history.at(now))
        yield from _dew(product, history.at(now), scene.stage.unit)


def doubt(scene: Scene, step: Step) -> Doubt | None:
    """Return the cold that work which was begun has met by the readings, or that is to be expected."""
    state, product = scene.state(step), scene.product(step)
    if product.lowest is None or state.started is None or state.abandoned_at is not None:
        return None
    now = instants.cut(scene.now)
    end = now if state.finished is None else instants.up(state.finished)
    cold = _limits(scene, step, product)
    until, begin = end + cold.lasts, instants.cut(state.started)
    needs = f"{product.name} needs {_degrees(scene, product.lowest)} until {when(until, scene.zone)}"
    read = cold.history.read_under(product.lowest, begin, min(until, now + 1))
    if read is not None and SUSPECT not in state.overruled:
        was = f"It was {_degrees(scene, read.value)} {when(read.begin, scene.zone)}; {needs}."
        return Doubt(f"{was} The film may not have formed, and warming it now does not mend it.", spoiled=True)
    ahead = cold.history.under(product.lowest, max(now, begin), until)
    if not ahead:
        return None
    will = f"{_degrees(scene, ahead[0].temperature or 0.0)} {when(max(ahead[0].begin, now), scene.zone)}"
    return Doubt(f"{will}, and {needs}. Keep it warm until then.", spoiled=False)


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
    if one.rule is cure.Rule.UNKNOWN and coldest is not None and coldest < one.pace.rated_at - LOOSE:
        return f"colder than the label’s {rated}, and no rule is known: test it"
    return ""


def is_spoiled(scene: Scene, step: Step) -> bool:
    """Return whether a joint may not have formed, and nobody has said that it holds."""
    found = doubt(scene, step)
    return found is not None and found.spoiled


def _degrees(scene: Scene, celsius: float) -> str:
    return degrees(celsius, scene.stage.unit)


def _limits(scene: Scene, step: Step, product: Product) -> Cold:
    return Cold(scene.air(step), product.lowest or 0.0, wait_minutes(product.lowest_for_hours))


def _cold(scene: Scene, step: Step, product: Product) -> Iterator[Against]:
    if product.lowest is None:
        return
    cold, now = _limits(scene, step, product), instants.cut(scene.now)
    found = cold.history.under(product.lowest, now, now + step.minutes + cold.lasts)
    if not found:
        return
    begin = max(found[0].begin, now)
    at = "now" if begin == now else when(begin, scene.zone)
    warm = cold.warm_from(now, step.minutes)
    lasts = f"{product.lowest_for_hours:g} h after the work"
    yield Against(
        TOO_COLD,
        f"{_degrees(scene, found[0].temperature or 0.0)} {at}: {product.name} would not hold, it needs "
        f"{_degrees(scene, product.lowest)} until {lasts}",
        instants.moment(warm) if cold.again(warm, warm + step.minutes) is None else None,
    )


def _damp(product: Product, air: Air) -> Iterator[Against]:
    most = product.humidity_max
    if most is not None and air.humidity is not None and air.humidity > most + LOOSE:
        says = f"{percent(air.humidity)} humidity: {product.name} stands {percent(most)} at most"
        yield Against(FlagName.TOO_HUMID.value, says)


def _dew(product: Product, air: Air, unit: str) -> Iterator[Against]:
    least = product.dew_gap
    if least is None or air.temperature is None or air.humidity is None:
        return
    try:
        above = air.temperature - dew_point(air.temperature, air.humidity)
    except AirError:
        return
    if above < least - LOOSE:
        yield Against(
            FlagName.DEW_POINT.value,
            f"the dew point is only {difference(above, unit)} below the air: {product.name} wants "
            f"{difference(least, unit)}",
        )
