"""What a build's page shows of the journal: its lines, where each operation stands, and what may be started next."""

from collections.abc import Sequence
from typing import Any

from flask import g, render_template

from webapp.builds.beforehand import beforehand
from webapp.builds.models import Build, Operation
from webapp.builds.steps import Step
from webapp.db.session import session
from webapp.journal import acts
from webapp.journal.before import known_in
from webapp.journal.curing import curing_of
from webapp.journal.gluing import is_glued
from webapp.journal.lines import happened, lines_of
from webapp.journal.scene import Scene, of_build
from webapp.journal.standing import Standing, standing_of
from webapp.journal.words import state_words
from webapp.planning.record import State
from webapp.shops.actions import this_shop
from webapp.trade.cautions.work import Caution
from webapp.web.clock import now
from webapp.web.guard import visitor
from webapp.web.panels import drawn

SHOWN = 12


def journal_panel(build: Build) -> str:
    """The newest lines of a build's journal."""
    rows = session().scalars(happened(visitor().shop.id, build.id).limit(SHOWN)).all()
    lines = [line for line in lines_of(session(), rows) if line.build_id == build.id]
    return render_template("journal/_panel.html", build=build, lines=lines, more=len(rows) == SHOWN)


def operation_panel(operation: Operation) -> str:
    """Where an operation stands, with the buttons that fit now."""
    scene = _scene(operation.build)
    step = scene.step(operation)
    it, words = _standing(scene, step), state_words(scene, step)
    heating = _heating(scene.room(step)) if it.doubt is not None and it.doubt.warms else ()
    return render_template("journal/_operation.html", it=it, words=words, heating=heating)


def heating_panel(room: str) -> str:
    """What goes beside an advice to warm a room."""
    return drawn("components/cautions.html", "cautions", acts.heating(room))


def _heating(room: str | None) -> Sequence[Caution]:
    """The same, once for each room of a page."""
    said: set[str | None] = g.setdefault("said_heating", set())
    if room in said:
        return ()
    said.add(room)
    return acts.heating(room)


def before_panel(operation: Operation) -> str:
    """What is to be known before the tin is opened, folded: each thing once for each product of the build.

    The cautions stand there while the operation is in hand; before that they are said where it is started.
    """
    scene = _scene(operation.build)
    step = scene.step(operation)
    if scene.is_over(step):
        return ""
    found = beforehand(known_in(scene, step.build_id), step, scene.by_id)
    said: set[Any] = g.setdefault("said_before", set())
    clashes = [one for one in found.clashes if (step.build_id, step.product_id, one.key) not in said]
    tins = () if (step.build_id, step.product_id) in said else found.tins
    said |= {(step.build_id, step.product_id, one.key) for one in clashes} | {(step.build_id, step.product_id)}
    cautions = found.cautions if scene.state(step).at_it else ()
    if not (clashes or tins or cautions):
        return ""
    told = {"clashes": clashes, "tins": tins, "cautions": cautions, "product": found.product}
    return render_template("journal/_before_line.html", **told)


def glue_panel(operation: Operation) -> str:
    """The open time of a glue-up that is not done, held against its dry run."""
    if not is_glued(operation):
        return ""
    scene = _scene(operation.build)
    if scene.is_over(operation):
        return ""
    it = acts.gluing_of(scene, operation)
    if it is None:
        return ""
    return render_template(
        "journal/_glue_line.html", operation=operation, it=it, in_hand=bool(scene.state(operation).at_it)
    )


def more_panel(operation: Operation) -> str:
    """What else can be said of an operation, as buttons."""
    scene = _scene(operation.build)
    return render_template("journal/_more.html", it=_standing(scene, scene.step(operation)))


def top_panel(build: Build) -> str:
    """The one thing to start, or what is in hand."""
    scene = _scene(build)
    own = [operation for operation in scene.operations if operation.build_id == build.id]
    found = [_standing(scene, operation) for operation in own]
    in_hand = [one for one in found if one.state == State.IN_HAND]
    ready = [one for one in found if one.is_open and not one.hard]
    ready.sort(key=lambda one: one.state != State.PAUSED)
    return render_template("journal/_top.html", build=build, in_hand=in_hand, ready=ready[:1])


def curing_panel(build: Build) -> str:
    """When a piece that has left the bench is fully cured, and the care it needs until then."""
    curing = curing_of(_scene(build), build.id)
    return "" if curing is None else render_template("journal/_curing.html", curing=curing)


def _standing(scene: Scene, step: Step) -> Standing:
    kept: dict[int, Standing] = g.setdefault("standings", {})
    if step.id not in kept:
        kept[step.id] = standing_of(scene, step, visitor().maker_id)
    return kept[step.id]


def _scene(build: Build) -> Scene:
    """The scene of a build, loaded once a request."""
    kept: dict[int, Scene] = g.setdefault("scenes", {})
    if build.id not in kept:
        kept[build.id] = of_build(session(), this_shop(), build.id, now())
    return kept[build.id]
