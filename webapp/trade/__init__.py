"""What the trade knows: pure, standard library only, and no clock, file or chance in it."""
