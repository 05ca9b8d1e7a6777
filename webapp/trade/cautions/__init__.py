"""Cautions, and where each is due."""
