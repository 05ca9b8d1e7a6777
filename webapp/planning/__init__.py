"""Planning: pure functions from a shop, its builds and a moment to a plan. No clock, no files, no rows."""
