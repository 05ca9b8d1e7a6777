"""Floor 2: what every room of the web app uses. Knows no room."""
