"""The buying stage: what a finished plan needs from the shop."""
