"""What happened, newest first: in the shop, and on one build."""

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.journal import clock_views, closing_views, doubt_views, line_views, shop_time_views, wait_views
from webapp.journal.glue_views import part as glue
from webapp.journal.gluing import is_glued
from webapp.journal.lines import happened, lines_of
from webapp.journal.size_views import part as sizes
from webapp.journal.words import tending_words
from webapp.journal.wrong_clock import BELIEVED, ClockError
from webapp.planning.entry import RecordError
from webapp.web import paging, resend
from webapp.web.filters import capital
from webapp.web.forms import searched
from webapp.web.guard import mine, visitor
from webapp.web.once import new_key

room = Blueprint("journal", __name__)
for noun in (clock_views, closing_views, wait_views, doubt_views, line_views, shop_time_views):
    room.register_blueprint(noun.part)
room.register_blueprint(sizes)
room.register_blueprint(glue)
room.add_app_template_test(is_glued, "glued")
room.add_app_template_global(new_key, "new_id")
room.add_app_template_filter(tending_words)

LINES = 40


@room.get("/journal")
def index() -> str:
    """Show what happened in the shop."""
    return _page(None)


@room.get("/builds/<int:build_id>/journal")
def of_build(build_id: int) -> str:
    """Show what happened on one build."""
    return _page(mine(Build, build_id))


def _page(build: Build | None) -> str:
    words = searched("words")
    wanted = happened(visitor().shop.id, build.id if build else None, words, paging.up_to(LINES))
    page = paging.page_of(wanted, LINES)
    lines = [line for line in lines_of(session(), page.rows) if build is None or line.build_id == build.id]
    return render_template("journal/index.html", build=build, page=page, lines=lines, words=words)


@room.errorhandler(ClockError)
def not_sure(error: ClockError) -> ResponseReturnValue:
    """Keep what was tapped, and let the maker say whether the clock is right."""
    session().rollback()
    why = f"{error} If the clock is wrong, set it first: what you tapped would be noted at its time."
    return resend.again(why, 409, also=BELIEVED, button="The clock is right: save it")


@room.errorhandler(RecordError)
def not_taken(error: RecordError) -> ResponseReturnValue:
    """Say what is wrong with a line that the journal cannot take."""
    session().rollback()
    return render_template("journal/not_taken.html", text=capital(f"{error}.")), 422
