"""Figures in words and numbers, in the unit of the shop: one (label, what it says) for each."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.products.models import Figures, Product
from webapp.trade.air.degrees import difference
from webapp.trade.products.durability import water_class
from webapp.trade.waits.cure import Rule
from webapp.web.filters import capital, hours, span, temperature

Data = Mapping[str, Any]


@dataclass(frozen=True)
class Said:
    """One figure: its label and what it says."""

    label: str
    text: str


@dataclass(frozen=True)
class Change:
    """A version of the figures, and what it changed: (label, before, after)."""

    figures: Figures
    lines: tuple[tuple[str, str, str], ...]


def say(data: Data, unit: str) -> list[Said]:
    """Return every figure that is known, in the order of the label."""
    lines = [*_stages(data, unit), *_open_time(data), *_tend(data), *_recoat(data)]
    lines += [*_warmth(data, unit), *_air(data, unit)]
    return lines


def water(product: Product) -> list[Said]:
    """Return how well a glue usually stands water: a line where that is known, which its label does not have."""
    found = water_class(product.name, product.family)
    return [Said("Water", f"usually {found.says}. Its label counts.")] if found else []


def in_short(data: Data, unit: str) -> str:
    """Return what a list has room for: the stages, open time, lowest temperature."""
    parts = [f"{stage['name']} {hours(stage['hours'])}" for stage in data.get("stages", ())]
    if data.get("open_minutes"):
        parts.insert(0, f"open {span(data['open_minutes'])}")
    if data.get("recoat"):
        parts.append(f"next coat {windows(data['recoat'])}")
    if data.get("lowest") is not None:
        parts.append(f"not under {temperature(data['lowest'], unit)}")
    return ", ".join(parts) or "no figures yet"


def changes(product: Product, unit: str) -> list[Change]:
    """Return the versions of the figures, newest first, each with what it changed."""
    versions = list(product.figures)
    said = [{line.label: line.text for line in say(figures.data, unit)} for figures in versions]
    found = [Change(versions[0], ())] if versions else []
    for figures, before, after in zip(versions[1:], said, said[1:], strict=False):
        labels = [label for label in dict.fromkeys((*before, *after)) if before.get(label) != after.get(label)]
        lines = [(label, before.get(label, "nothing"), after.get(label, "nothing")) for label in labels]
        found.append(Change(figures, (*lines, *_source_changed(versions, figures))))
    return found[::-1]


def _source_changed(versions: Sequence[Figures], figures: Figures) -> list[tuple[str, str, str]]:
    before = versions[versions.index(figures) - 1]
    return [] if before.source == figures.source else [("Source", before.source, figures.source)]


def windows(rows: Iterable[Data]) -> str:
    """Return when the next layer may go on."""
    return ", or ".join(_window(row) for row in rows)


def _window(row: Data) -> str:
    start, end = row["from_hours"], row.get("to_hours")
    if end is None:
        text = f"from {hours(start)} on" if start else "at any time"
    else:
        text = f"from {hours(start)} to {hours(end)}" if start else f"within {hours(end)}"
    needs = row.get("needs") or ()
    return f"{text}, {first(needs)}" if needs else text


def first(needs: Iterable[str]) -> str:
    """Return what must be done before the next layer."""
    done = {"sand": "sanded", "wash": "washed", "scuff": "scuffed"}
    return " and ".join(done.get(need, f"after “{need}”") for need in needs)


def _stages(data: Data, unit: str) -> list[Said]:
    return [
        Said(capital(stage["name"]), hours(stage["hours"]) + _own_rule(stage, unit)) for stage in data.get("stages", ())
    ]


def _own_rule(stage: Data, unit: str) -> str:
    if "doubles_per" not in stage:
        return ""
    per = stage["doubles_per"]
    if per is None:
        return ", no known rule for the cold: test it"
    return f", twice as long for each {difference(per, unit)} colder"


def _open_time(data: Data) -> list[Said]:
    minutes = data.get("open_minutes")
    return [Said("Open time", f"{span(minutes)} from the first glue to the last clamp")] if minutes else []


def _tend(data: Data) -> list[Said]:
    return [
        Said(
            f"In between: {tend['key']}",
            f"{span(tend['at_minutes'])} after the work, begun within {span(tend.get('within_minutes', 0))}; "
            f"takes {span(tend['minutes'])}",
        )
        for tend in data.get("tend", ())
    ]


def _recoat(data: Data) -> list[Said]:
    rows = data.get("recoat") or ()
    lines = [Said("Next layer", windows(rows))] if rows else []
    lines += [Said(f"Over {layer}", windows(spans)) for layer, spans in (data.get("recoat_over") or {}).items()]
    missed = data.get("missed_needs", ["scuff"])
    if any(row.get("to_hours") is not None for row in rows) and missed:
        lines.append(Said("When no window is left", f"{first(missed)} first"))
    if data.get("dust_free"):
        lines.append(Said("Dust", f"spoils it until it is {data['dust_free']}"))
    return lines


def _warmth(data: Data, unit: str) -> list[Said]:
    lines = []
    if data.get("rated_at") is not None:
        lines.append(Said("Times are for", temperature(data["rated_at"], unit)))
    per = data.get("doubles_per")
    lines.append(Said("Colder", f"twice as long for each {difference(per, unit)}" if per else Rule.UNKNOWN))
    if data.get("faster_when_warm"):
        faster = data.get("faster_per") or per
        lines.append(Said("Warmer", f"half as long for each {difference(faster, unit)}" if faster else "times stay"))
    if data.get("lowest") is not None:
        long = hours(data.get("lowest_for_hours", 24))
        lines.append(
            Said("Never under", f"{temperature(data['lowest'], unit)}, and not for {long} after; it would not hold")
        )
    if data.get("counts_above") is not None:
        lines.append(Said("Hours count", f"only above {temperature(data['counts_above'], unit)}"))
    return lines


def _air(data: Data, unit: str) -> list[Said]:
    lines = []
    if data.get("humidity_max") is not None:
        lines.append(Said("Air", f"no damper than {data['humidity_max']:g} %"))
    if data.get("dew_gap") is not None:
        lines.append(Said("Dew point", f"at least {difference(data['dew_gap'], unit)} under the air"))
    return lines
