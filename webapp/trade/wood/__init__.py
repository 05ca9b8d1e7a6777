"""Species, the moisture in wood, and how it moves."""
