"""Waits: what the clock counts, the stages of a cure, assembly time."""
