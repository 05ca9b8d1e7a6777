"""Room: past builds, as the source of the next price, time and recipe."""
