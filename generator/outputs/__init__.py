"""The outputs room."""
