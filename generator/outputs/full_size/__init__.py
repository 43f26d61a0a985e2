"""Templates at full size for parts that a straight cut does not make.

Invariant: one millimetre of a part is one millimetre on paper.
"""
