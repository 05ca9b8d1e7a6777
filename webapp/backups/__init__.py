"""Room: backups of the whole server in one archive, and how old the last one is."""
