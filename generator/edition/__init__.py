"""The edition stage: every formula becomes a value, every piece gets its place."""
