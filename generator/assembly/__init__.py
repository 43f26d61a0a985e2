"""The assembly stage: which screws are driven in which step, and where the mates land."""
