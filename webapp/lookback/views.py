"""Past builds: what they took, what they cost, what they earned, two side by side."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from flask import Blueprint, render_template, request
from sqlalchemy import ColumnElement, or_, select

from webapp.builds.models import PAST, Build, Operation
from webapp.costs.actions import cost_sheets
from webapp.costs.sheet import Sheet
from webapp.db.session import session
from webapp.db.texts import contains
from webapp.journal.models import HAS_WORDS, Entry
from webapp.journal.reading import COLUMNS, entry_of, of_shop
from webapp.journal.states import states_of
from webapp.journal.words import entry_note
from webapp.lookback.review import Review, Step, bars, beside, usual_factor
from webapp.planning.record import OperationState, State
from webapp.web.clock import now
from webapp.web.forms import searched
from webapp.web.guard import mine, visitor
from webapp.web.paging import Page, page_of

room = Blueprint("lookback", __name__)

NOTES = 20
AT_ONCE = 10  # past builds on a page, each with all its figures
COUNTED = 50  # so many of the newest past builds tell what is usual


@dataclass(frozen=True)
class Past:
    """A past build with its review and, for those who may see money, its cost sheet."""

    build: Build
    review: Review
    sheet: Sheet | None

    @property
    def earned(self) -> int | None:
        return None if self.sheet is None else self.sheet.earned_an_hour


def _pasts(builds: Sequence[Build]) -> list[Past]:
    reviews = _reviews([build.id for build in builds])
    sheets = cost_sheets(session(), builds, now()) if visitor().is_owner else {}
    return [Past(build, reviews[build.id], sheets.get(build.id)) for build in builds]


def _reviews(builds: list[int]) -> dict[int, Review]:
    columns = Operation.build_id, Operation.id, Operation.name, Operation.kind, Operation.group, Operation.minutes
    wanted = select(*columns).where(Operation.build_id.in_(builds)).order_by(Operation.position, Operation.id)
    found, zone = states_of(session(), builds, now()), visitor().shop.zone
    steps: dict[int, list[tuple[Step, OperationState]]] = {build: [] for build in builds}
    for build, key, name, kind, group, minutes in session().execute(wanted):
        one = found.get(key) or OperationState(now())
        is_abandoned = one.state is State.ABANDONED
        step = Step(name, kind, group, minutes, one.worked_minutes, one.finished is not None, is_abandoned)
        steps[build].append((step, one))
    return {build: _review(of_build, zone) for build, of_build in steps.items()}


def _review(steps: Sequence[tuple[Step, OperationState]], zone: ZoneInfo) -> Review:
    begun = [one.started for _, one in steps if one.started]
    ended = [one.finished for _, one in steps if one.finished]
    first, last = min(begun, default=None), max(ended, default=None)
    return Review(
        tuple(step for step, _ in steps),
        first.astimezone(zone).date() if first else None,
        last.astimezone(zone).date() if last else None,
    )


@room.get("/lookback")
def index() -> str:
    """List the past builds, newest delivery first, or those that hold the words looked for."""
    q = searched("q")
    wanted = select(Build).where(Build.shop_id == visitor().shop.id, Build.status.in_(PAST))
    if q:
        told = select(Entry.build_id).where(Entry.shop_id == visitor().shop.id, *_says(q))
        wanted = wanted.where(or_(contains(Build.folded, q), Build.id.in_(told)))
    # in the order of an index: no more are looked at than are shown
    page = page_of(wanted.order_by(Build.delivered_on.desc().nulls_last(), Build.id.desc()), AT_ONCE)
    notes = _notes(q, page) if q else []
    return render_template("lookback/index.html", pasts=_pasts(page.rows), notes=notes, q=q, page=page)


def _says(q: str) -> tuple[ColumnElement[bool], ...]:
    return HAS_WORDS, contains(Entry.folded, q)


def _notes(q: str, page: Page[Build]) -> list[tuple[int, str, datetime, str]]:
    """Return the newest lines about past builds: the build and its name, when it was, the words."""
    shop_id = visitor().shop.id
    wanted = select(Build.name, *COLUMNS).join(Build, Entry.build_id == Build.id).where(*_says(q))
    if page.number == 1 and not page.more:  # nothing is said of any other build
        wanted = wanted.where(of_shop(shop_id), Entry.build_id.in_([build.id for build in page.rows]))
    else:
        wanted = wanted.where(Entry.shop_id == shop_id, Build.status.in_(PAST))
    rows = session().execute(wanted.order_by(Entry.at.desc(), Entry.id.desc()).limit(NOTES))
    return [(row.build_id, row.name, row.at, entry_note(entry_of(row))) for row in rows]


@room.get("/builds/<int:build_id>/lookback")
def show(build_id: int) -> str:
    """Show one build, plan against real."""
    build = mine(Build, build_id)
    past = _pasts([build])[0]
    factors = _factors()
    lines = list(zip(past.review.steps, bars(past.review.steps), strict=True))
    return render_template(
        "lookback/show.html", past=past, lines=lines, usual=usual_factor(factors), count=len(factors)
    )


def _factors() -> list[float]:
    """Return real over estimated of each of the newest past builds, as their reviews have it."""
    wanted = (
        select(Build.id)
        .where(Build.shop_id == visitor().shop.id, Build.status.in_(PAST))
        .order_by(Build.id.desc())
        .limit(COUNTED)
    )
    builds = list(session().scalars(wanted))
    found = states_of(session(), builds, now())
    estimated: Counter[int] = Counter()
    worked: Counter[int] = Counter()
    took = {key: one.worked_minutes for key, one in found.items() if one.finished and one.worked_minutes}
    steps = select(Operation.build_id, Operation.id, Operation.minutes).where(Operation.build_id.in_(builds))
    for build, key, minutes in session().execute(steps):
        if key in took:
            estimated[build] += minutes
            worked[build] += took[key]
    return [worked[build] / estimated[build] for build in estimated]


@room.get("/lookback/compare")
def compare() -> str:
    """Lay two builds side by side."""
    picked = request.args.getlist("build", type=int)
    if len(picked) != 2:
        wrong = f"{len(picked) or 'None'} {'is' if len(picked) == 1 else 'are'} ticked now."
        return render_template("lookback/compare.html", wrong=wrong)
    left, right = _pasts([mine(Build, build_id) for build_id in picked])
    kinds = beside(left.review, right.review)
    return render_template("lookback/compare.html", left=left, right=right, kinds=kinds, wrong="")
