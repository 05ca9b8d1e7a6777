"""What does not go over, under or beside what."""
