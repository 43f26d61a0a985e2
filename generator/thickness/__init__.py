"""What a page says for panels as they measure: computed at a few thicknesses, proved between.

A job above `build`, because it calls every stage, and above `pages`, because it reads what they
say. Invariant: no size is worked out here; each comes from the generator itself, or from a straight
line between two that do.
"""
