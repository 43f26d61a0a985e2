"""Beams: how far a bar of wood bends under a load, and how strips along a board stiffen it.

Source of the coefficients: Wood Handbook, FPL-GTR-190 (2010), table 9-1; the sag is
k W L^3 / (E I), with W the whole load on the span L. Shear adds less than a hundredth to the sag
of a board more than twenty times as long as it is thick, and is left out.
"""

import math
from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Final, Literal

LoadShape = Literal["spread", "spot"]
BeamEnds = Literal["simple", "clamped", "cantilever"]

COEFFICIENTS: Final[Mapping[tuple[LoadShape, BeamEnds], Fraction]] = {
    ("spread", "simple"): Fraction(5, 384),
    ("spread", "clamped"): Fraction(1, 384),
    ("spot", "simple"): Fraction(1, 48),
    ("spot", "clamped"): Fraction(1, 192),
    ("spread", "cantilever"): Fraction(1, 8),
    ("spot", "cantilever"): Fraction(1, 3),
}
"""Sag in the middle, of a cantilever at its free end; a spot is in the middle or at that end."""

CREEP: Final = 1.5
"""What stays on dry wood for years bends it half as far again. Source: NDS 3.5.2."""


def inertia_mm4(width_mm: float, height_mm: float) -> float:
    """Return the second moment of area of a rectangle that bends up and down."""
    return width_mm * height_mm**3 / 12


def round_inertia_mm4(diameter_mm: float) -> float:
    """Return the second moment of area of a circle."""
    return math.pi * diameter_mm**4 / 64


def deflect(
    shape: LoadShape, ends: BeamEnds, load_n: float, span_mm: float, stiffness: float
) -> float:
    """Return the sag of a beam in mm.

    Args:
        shape: Spread evenly over the span, or on the one spot where it bends it most.
        ends: How it is held.
        load_n: In all.
        span_mm: Between its supports, or from its only one to its free end.
        stiffness: Modulus of elasticity times second moment of area, in N mm2.
    """
    return float(COEFFICIENTS[shape, ends]) * load_n * span_mm**3 / stiffness


def deflect_overhang(
    shape: LoadShape, load_n: float, over_mm: float, span_mm: float, stiffness: float
) -> float:
    """Return how far the end of a board goes down that stands out over the last of two supports.

    To the bending of the end itself comes that the board turns over the support. Source: the
    beam tables of structural handbooks, P a2 (l + a) / 3EI and w a3 (4l + 3a) / 24EI; from memory.

    Args:
        shape: Spread over what stands out, or on its very end.
        load_n: On what stands out, in all.
        over_mm: How far it stands out.
        span_mm: To the next support behind; 0 where it cannot turn.
        stiffness: As for `deflect`.
    """
    arm = over_mm if shape == "spot" else over_mm / 2
    turned = load_n * arm * span_mm / (3 * stiffness)
    return deflect(shape, "cantilever", load_n, over_mm, stiffness) + turned * over_mm


def stiffen(board: float, strips: Iterable[tuple[float, float]]) -> float:
    r"""Return the stiffness of a board with strips fixed along it, for a load spread across it.

    A cut across the whole stays a straight line, but may turn; each strip bends with its own
    stiffness, and that glue makes one beam of them is not counted. The sag is that of the
    lower side. One strip alone only turns the board: then the board is as stiff as without it.

          |  a + t                 strip at -1       board        strip at +1
          v_____ a                     |---------------0---------------|
                \_____|  a - t

    Args:
        board: Modulus times second moment of the board.
        strips: Where each is across the board, from -1 at one side to 1 at the other, and its
            modulus times second moment.
    """
    total, turning, spread = board, 0.0, board / 3
    for at, strip in strips:
        total += strip
        turning += strip * at
        spread += strip * at * at
    together = (total * spread - turning * turning) / (spread + abs(turning))
    return max(board, together)
