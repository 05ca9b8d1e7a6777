"""Benchtide: a project journal for furniture makers. The map of the house is in DEVELOPERS.md."""
