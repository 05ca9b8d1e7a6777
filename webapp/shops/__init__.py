"""Room: the workplace that owns everything, its hours, makers, equipment, rooms and climate."""
