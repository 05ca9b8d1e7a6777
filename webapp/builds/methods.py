"""Methods to begin a build with: chains of operations as many shops do them, to be changed in the build.

All minutes, counts and rests here are common practice, no source; a shop's own record soon knows better. Glues and
finishes are named by family and equipment by a word: the shop's own take their place where it has them. Waits come from
the product's figures; `USUAL_HOURS` stand in where the shop has no such product.

A panel is finished before the frame goes round it (an unfinished line would show when it shrinks), and is never glued
in. Finishing waits for all the woodwork that was chosen with it; a film over an oil follows the oil's last coat.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from webapp.trade.products.families import DUST_FREE, LIGHT_USE, OUT_OF_CLAMPS, READY_TO_PLANE

RESTED = "rested"
USUAL_HOURS = {OUT_OF_CLAMPS: 1, READY_TO_PLANE: 168, DUST_FREE: 8, LIGHT_USE: 72}

WOOD_GLUE = ("yellow PVA", "pva", "hide glue")
OIL = ("oil-varnish blend", "wiping oil", "oil", "hardwax oil")
FILM = ("wiping varnish", "varnish", "waterborne", "shellac", "lacquer")
CLAMPS = "clamp"


@dataclass(frozen=True)
class Wait:
    """What a step waits for: the end of another, or a stage of its wait."""

    step: str
    stage: str | None = None


@dataclass(frozen=True)
class Step:
    """One operation of a method. `product` lists names and families, the first the shop has is taken."""

    key: str
    name: str
    kind: str
    minutes: int
    after: tuple[Wait, ...] = ()
    over: str | None = None
    product: tuple[str, ...] = ()
    clamps: int = 0
    count: int = 1
    assembly_minutes: int | None = None
    rests: float | None = None
    group: str = ""


@dataclass(frozen=True)
class Method:
    key: str
    name: str
    says: str
    group: str
    steps: tuple[Step, ...]
    finish: tuple[str, ...] = ()  # of a finish: its families
    joins: tuple[tuple[str, Wait], ...] = ()  # (step, what it waits for of another method, if that is chosen too)


def _after(*names: str) -> tuple[Wait, ...]:
    """Waits written as "glue" or "glue: out of clamps"."""
    return tuple(Wait(step, stage or None) for step, _, stage in (name.partition(": ") for name in names))


def _milled(what: str, mill_minutes: int) -> tuple[Step, ...]:
    """Rough boards to milled stock, with a rest in between in which they move."""
    return (
        Step("cut", f"Cut {what} to rough size", "break down", 45),
        Step("rough", f"Rough mill {what}, left thick", "rough mill", 60, _after("cut")),
        Step("rest", f"Stack {what} on sticks to rest", "rest", 10, _after("rough"), rests=48),
        Step("mill", f"Final mill {what}", "final mill", mill_minutes, _after(f"rest: {RESTED}")),
    )


def _glued(key: str, name: str, minutes: int, waits: tuple[Wait, ...], clamps: int, assembly: int) -> Step:
    return Step(key, name, "glue-up", minutes, waits, product=WOOD_GLUE, clamps=clamps, assembly_minutes=assembly)


METHODS: tuple[Method, ...] = (
    Method(
        "edge-glued-panel",
        "Edge-glued panel",
        "A top or a wide panel from boards. It rests after the glue-up until the joints are dry, and is planed then.",
        "panel",
        (
            *_milled("the boards", 75),
            Step("fit", "Joint the edges and dry fit the panel", "dry fit", 45, _after("mill")),
            _glued("glue", "Glue up the panel", 40, _after("fit"), 6, 8),
            Step("plane", "Plane the panel flat", "level", 60, _after(f"glue: {READY_TO_PLANE}")),
            Step("size", "Cut the panel to size", "cut", 30, _after("plane")),
        ),
    ),
    Method(
        "frame-and-panel",
        "Frame and panel",
        "A door or a side. The panel is finished before the frame is glued round it, and stays loose in its groove.",
        "frame and panel",
        (
            *_milled("frame and panel", 90),
            Step("joints", "Cut the frame joints", "joinery", 120, _after("mill")),
            Step("groove", "Groove the frame", "groove", 40, _after("joints")),
            Step("raise", "Shape the edges of the panel", "shape", 60, _after("mill")),
            Step("sand", "Sand the panel", "sand", 30, _after("raise", "groove")),
            Step("coat1", "Finish the panel, coat 1", "coat", 20, _after("sand"), product=OIL),
            Step("coat2", "Finish the panel, coat 2", "coat", 15, over="coat1", product=OIL),
            Step("fit", "Dry fit the frame round the panel", "dry fit", 20, _after("groove", f"coat2: {LIGHT_USE}")),
            _glued("glue", "Glue the frame, the panel loose", 30, _after("fit"), 4, 8),
            Step("level", "Level the frame joints", "level", 30, _after(f"glue: {OUT_OF_CLAMPS}")),
        ),
    ),
    Method(
        "table-base",
        "Table base",
        "Four legs and four rails with mortises and tenons, glued in two goes: first the ends, then the long rails.",
        "base",
        (
            *_milled("legs and rails", 90),
            Step("mark", "Mark out the joints", "mark out", 30, _after("mill")),
            Step("mortises", "Cut the mortises", "mortise", 150, _after("mark"), count=8),
            Step("tenons", "Cut and fit the tenons", "joinery", 150, _after("mortises"), count=8),
            Step("legs", "Taper the legs", "shape", 60, _after("tenons"), count=4),
            Step("sand", "Sand what cannot be reached later", "sand", 45, _after("legs")),
            Step("fit", "Dry fit the base", "dry fit", 30, _after("sand")),
            _glued("ends", "Glue the two ends", 30, _after("fit"), 4, 8),
            _glued("glue", "Glue the long rails between the ends", 30, _after(f"ends: {OUT_OF_CLAMPS}"), 4, 8),
            Step("level", "Level the top of the base", "level", 30, _after(f"glue: {OUT_OF_CLAMPS}")),
        ),
    ),
    Method(
        "drawer",
        "Drawer",
        "Dovetailed, glued after it has been dry fitted with its bottom, then fitted to its opening.",
        "drawer",
        (
            *_milled("the drawer parts", 60),
            Step("size", "Cut front, sides and back to fit the opening", "cut", 40, _after("mill")),
            Step("dovetails", "Cut the dovetails", "dovetail", 150, _after("size")),
            Step("groove", "Groove for the bottom", "groove", 20, _after("dovetails")),
            Step("bottom", "Make the bottom", "cut", 25, _after("groove")),
            Step("sand", "Sand the inside faces", "sand", 20, _after("groove")),
            Step("fit", "Dry fit the drawer with its bottom", "dry fit", 20, _after("bottom", "sand")),
            _glued("glue", "Glue the drawer, the bottom loose", 30, _after("fit"), 4, 8),
            Step("level", "Level the drawer sides", "level", 20, _after(f"glue: {OUT_OF_CLAMPS}")),
            Step("opening", "Fit the drawer to its opening", "fit drawers", 40, _after("level")),
        ),
        joins=(("size", Wait("table-base.glue", OUT_OF_CLAMPS)),),
    ),
    Method(
        "oil-finish",
        "Oil finish",
        "Three coats of oil, each wiped off, with a wait between them.",
        "oil finish",
        (
            Step("sand", "Sand for the oil", "sand", 120),
            Step("coat1", "Oil, coat 1", "coat", 40, _after("sand"), product=OIL),
            Step("coat2", "Oil, coat 2", "coat", 30, over="coat1", product=OIL),
            Step("coat3", "Oil, coat 3", "coat", 30, over="coat2", product=OIL),
        ),
        finish=OIL,
    ),
    Method(
        "film-finish",
        "Film finish",
        "Three coats of varnish, lacquer or the like, sanded between as the product asks, rubbed out at the end.",
        "finish",
        (
            Step("sand", "Sand for the finish", "sand", 120),
            Step("coat1", "Finish, coat 1", "coat", 30, _after("sand"), product=FILM),
            Step("coat2", "Finish, coat 2", "coat", 30, over="coat1", product=FILM),
            Step("coat3", "Finish, coat 3", "coat", 30, over="coat2", product=FILM),
            Step("rub", "Rub out the finish", "rub out", 60, _after(f"coat3: {LIGHT_USE}")),
        ),
        finish=FILM,
    ),
)


def chained(keys: Collection[str]) -> tuple[Step, ...]:
    """Return the steps of the chosen methods as one chain. Keys become method.step; each method is a group."""
    chosen = [method for method in METHODS if method.key in keys]
    steps = tuple(step for method in chosen for step in _steps(method, chosen))
    known = {step.key for step in steps}
    return tuple(replace(step, after=tuple(wait for wait in step.after if wait.step in known)) for step in steps)


def last_coat(steps: Collection[Step]) -> Step | None:
    """Return the last coat of the finish that goes on the whole piece: it has to stand light use at the hand-over."""
    finishes = {method.key for method in METHODS if method.finish}
    coats = [step for step in steps if step.kind == "coat" and step.key.partition(".")[0] in finishes]
    return coats[-1] if coats else None


def _steps(method: Method, chosen: Collection[Method]) -> Iterator[Step]:
    finishes = [other for other in chosen if other.finish]
    below = finishes[0] if method.finish and method is not finishes[0] else None
    first = True
    for step in method.steps:
        if below and step.kind == "sand":
            continue  # the oil below was sanded for
        renamed = _named(step, method)
        if method.finish and first:
            renamed = _begins_finish(renamed, chosen, below)
        elif step.product and step.kind == "coat" and finishes and not method.finish:
            renamed = replace(renamed, product=finishes[0].finish)
        first = False
        yield renamed


def _named(step: Step, method: Method) -> Step:
    joins = tuple(wait for key, wait in method.joins if key == step.key)
    own = tuple(Wait(f"{method.key}.{wait.step}", wait.stage) for wait in step.after)
    over = f"{method.key}.{step.over}" if step.over else None
    return replace(step, key=f"{method.key}.{step.key}", after=own + joins, over=over, group=method.group)


def _begins_finish(step: Step, chosen: Collection[Method], below: Method | None) -> Step:
    if below:
        coat = [step for step in below.steps if step.kind == "coat"][-1]
        return replace(step, after=(), over=f"{below.key}.{coat.key}")
    ends = tuple(Wait(f"{method.key}.{method.steps[-1].key}") for method in chosen if not method.finish)
    return replace(step, after=step.after + ends)
