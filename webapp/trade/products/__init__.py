"""Families of glue and finish with their figures, joints, ages."""
