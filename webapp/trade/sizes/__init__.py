"""Sizes as measured, and how two of them fit."""
