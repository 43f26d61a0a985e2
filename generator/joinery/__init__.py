"""The joinery room."""
