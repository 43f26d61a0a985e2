"""The checks: one file each, named for the fault; the docstring is the check's public page."""
