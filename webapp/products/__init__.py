"""Room: the glues and finishes as this shop uses them, with figures that carry their source."""
