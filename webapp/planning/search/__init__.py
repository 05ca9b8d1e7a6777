"""Search over orders: which order to lay work out in, so that the plan costs least.

How to read it: `problem.py` says what a problem has to offer, `budget.py` counts the passes, `orders.py` makes lists
out of chance and out of other lists, `evolution.py` is the search. It knows nothing of shops or of projects.
`project.py` with `place.py` is the plain project of the textbooks (durations, precedence with waits, counted resources,
no hours): what the search is measured with, since published optima and best known plans exist for it.
"""

from webapp.planning.search.budget import Budget
from webapp.planning.search.evolution import evolve
from webapp.planning.search.place import Placing
from webapp.planning.search.problem import Found, Problem
from webapp.planning.search.project import Link, Project, ProjectError

__all__ = ["Budget", "Found", "Link", "Placing", "Problem", "Project", "ProjectError", "evolve"]
