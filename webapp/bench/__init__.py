"""Room: the page of now."""
