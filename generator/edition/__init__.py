"""The edition room."""
