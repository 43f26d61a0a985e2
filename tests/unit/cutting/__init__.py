"""The cutting stage, module by module."""
