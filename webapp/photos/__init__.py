"""Room: the pictures of builds and operations, upright, small, and without position."""
