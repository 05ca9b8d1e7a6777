"""Past builds: what they took, what they cost, what they earned, two side by side."""

from collections.abc import Sequence
from dataclasses import dataclass

from flask import Blueprint, render_template, request
from sqlalchemy import or_, select
from sqlalchemy.orm import joinedload, selectinload

from webapp.builds.models import PAST, Build
from webapp.costs.actions import cost_sheets
from webapp.costs.sheet import Sheet
from webapp.db.session import session
from webapp.db.texts import contains
from webapp.journal.actions import states
from webapp.journal.models import Entry
from webapp.lookback.review import Review, Step, bars, beside, usual_factor
from webapp.planning.record import OperationState, State
from webapp.web.clock import now
from webapp.web.forms import searched
from webapp.web.guard import mine, visitor
from webapp.web.paging import page_of

room = Blueprint("lookback", __name__)

NOTES = 20
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
    operations = [operation for build in builds for operation in build.operations]
    folded = states(session(), operations, now())
    sheets = cost_sheets(session(), builds, now()) if visitor().is_owner else {}
    return [Past(build, _review(build, folded), sheets.get(build.id)) for build in builds]


def _review(build: Build, folded: dict[int, OperationState]) -> Review:
    zone = visitor().shop.zone
    found = [folded[operation.id] for operation in build.operations]
    begun = [state.started.astimezone(zone).date() for state in found if state.started]
    ended = [state.finished.astimezone(zone).date() for state in found if state.finished]
    steps = tuple(
        Step(
            operation.name, operation.kind, operation.group, operation.minutes, state.worked_minutes,
            state.finished is not None, state.state is State.ABANDONED,
        )
        for operation, state in zip(build.operations, found, strict=True)
    )  # fmt: skip
    return Review(steps, min(begun, default=None), max(ended, default=None))


@room.get("/lookback")
def index() -> str:
    """List the past builds, newest delivery first, or those that hold the words looked for."""
    q = searched("q")
    shop_id = visitor().shop.id
    wanted = (
        select(Build)
        .where(Build.shop_id == shop_id, Build.status.in_(PAST))
        .order_by(Build.delivered_on.is_(None), Build.delivered_on.desc(), Build.id.desc())
        .options(selectinload(Build.operations))
    )
    notes: Sequence[Entry] = ()
    if q:
        spoken = select(Entry.build_id).where(Entry.shop_id == shop_id, contains(Entry.folded, q))
        wanted = wanted.where(or_(contains(Build.folded, q), Build.id.in_(spoken)))
        notes = (
            session()
            .scalars(
                select(Entry)
                .join(Build, Entry.build_id == Build.id)
                .where(Entry.shop_id == shop_id, Build.status.in_(PAST), contains(Entry.folded, q))
                .order_by(Entry.at.desc())
                .limit(NOTES)
                .options(joinedload(Entry.build))
            )
            .all()
        )
    page = page_of(wanted)
    return render_template("lookback/index.html", pasts=_pasts(page.rows), notes=notes, q=q, page=page)


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
    wanted = (
        select(Build)
        .where(Build.shop_id == visitor().shop.id, Build.status.in_(PAST))
        .order_by(Build.id.desc())
        .limit(COUNTED)
        .options(selectinload(Build.operations))
    )
    builds = session().scalars(wanted).all()
    folded = states(session(), [operation for build in builds for operation in build.operations], now())
    reviews = [_review(build, folded) for build in builds]
    return [review.factor for review in reviews if review.factor is not None]


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
