"""Costs on a build's own page, for owners."""

from flask import render_template

from webapp.builds.models import Build
from webapp.costs.actions import cost_sheet
from webapp.db.session import session
from webapp.web.clock import now
from webapp.web.guard import visitor


def build_panel(build: Build) -> str:
    """Return what a build has cost so far; nothing for a helper."""
    if not visitor().is_owner:
        return ""
    return render_template("costs/_panel.html", build=build, sheet=cost_sheet(session(), build, now()))
