"""Floor 2: the engine, the sessions, the column types and the migrations. Knows no room."""
