"""The booklet of a plan: everything it takes to build the piece, as a PDF for one paper.

Invariant: any text of a design reaches the typesetter as data, never as a command.
"""
