"""Settings of all tests: generated examples are the same on every machine and every day."""

from hypothesis import settings

settings.register_profile("same everywhere", derandomize=True, deadline=None)
settings.load_profile("same everywhere")
