"""Air: readings, temperature over time, dew, and what too cold and too damp mean."""
