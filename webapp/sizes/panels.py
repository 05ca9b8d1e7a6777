"""What a build's own page shows of its sizes."""

from flask import render_template

from webapp.builds.models import Build
from webapp.db.session import session
from webapp.sizes.shown import shown


def build_panel(build: Build) -> str:
    """The sizes with what they measured last, and how what goes into what fits."""
    return render_template("sizes/_panel.html", build=build, sizes=shown(session(), build))
