"""Room: wood, hardware and consumables, as they were billed."""
