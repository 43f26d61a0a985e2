"""YAML read as words with their places, and typed getters that report problems."""
