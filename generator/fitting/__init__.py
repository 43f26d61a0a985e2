"""The fitting stage: edging, glue, hardware and finish, and how much of each.

Invariant: it moves nothing and saws nothing; it only says what goes onto the wood.
"""
