"""Room: the pieces, their operations and their parts."""
