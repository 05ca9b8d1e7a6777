"""What other pages show: the ways to take a shop or a build out, and to put one in."""

from typing import Any

from flask import g, render_template

from webapp.builds.models import Build
from webapp.web.guard import visitor


def shop_panel(_subject: Any) -> str:
    """Return the way to taking the shop out, and to putting one in."""
    return render_template("exports/_shop.html")


def build_panel(build: Build) -> str:
    """Return the way to taking a build out; nothing for a helper."""
    return render_template("exports/_build.html", build=build) if visitor().is_owner else ""


def person_panel(_subject: Any) -> str:
    """Return the way of somebody to the table of their own hours; nothing for an owner, who has those of all."""
    who = g.visitor
    return render_template("exports/_hours.html") if who.shop_facts is not None and not who.is_owner else ""


def start_panel(_subject: Any) -> str:
    """Return the way to bringing a shop along from another server."""
    return render_template("exports/_start.html")
