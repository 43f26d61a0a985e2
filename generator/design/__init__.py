"""The design stage: a maker's file becomes a `Design`, or a list of what is wrong with it."""
