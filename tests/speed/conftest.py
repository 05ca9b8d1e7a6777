"""Programs, not tests: those of the general solver cannot even be read where it is not installed."""

collect_ignore = ["solver.py", "solver_facts.py"]
