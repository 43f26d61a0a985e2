"""Reads shared/: what can be bought and what it is worked with."""
