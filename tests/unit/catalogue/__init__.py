"""Reading the catalogue."""
