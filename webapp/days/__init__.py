"""Room: the plan, day by day."""
