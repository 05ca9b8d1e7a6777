"""Room: what happened. The journal only grows; everything about progress is folded from it."""
