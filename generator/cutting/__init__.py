"""The cutting room."""
