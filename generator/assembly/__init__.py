"""The assembly room."""
