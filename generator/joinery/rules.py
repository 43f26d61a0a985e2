"""The rules of thumb fasteners are placed by: common practice, no source, each in one place."""

from typing import Final

from generator.model.fixings import Dowel, Fixing
from generator.units import MM_PER_INCH, System

UNSCREWED: Final = frozenset({"glue", "pins", "nothing"})
"""Ways to join that need no screw; what is joined with nothing hangs or lies there."""

PIN_REACH_MM: Final = 6.0
"""A shelf pin sticks out of its hole 8 mm or more (5/16 in): so much of it carries at least."""

POCKET_ANGLE_DEG: Final = 15.0
"""Between the screw and the face the pocket is bored in."""

SPACING_MM: Final = 200.0
"""At most, between screws along a joint (8 in)."""

ENDS_MM: Final = 38.0
"""From the end of a contact to the first screw (1 1/2 in)."""

LEAST_END_MM: Final = 12.0
"""Nearer to the end of a contact a screw splits the board (1/2 in)."""

TWO_SCREWS_FROM_MM: Final = 50.0
"""A contact longer than this gets two screws, so that the part cannot turn (2 in)."""

LEAST_SPACING_MM: Final = 25.0
"""Two screws nearer than this share one crack (1 in)."""

COVER_MM: Final = 3.0
"""Wood left before the point of a face screw and beside any screw (1/8 in)."""

POCKET_COVER_MM: Final = 1.5
"""Wood left before the point of a pocket screw, which meets the far face at a slant (1/16 in)."""

BESIDE_MM: Final = 1.5
"""Wood left beside the shank: less bulges the face of a panel."""

POCKET_HOLD_MM: Final = 9.0
"""The least a pocket screw must reach into the second part."""

EDGE_HOLD_SHARE: Final = 0.45
"""The least share of a face screw's length that must stand in an edge it enters: about half."""

FLAT_HOLD_SHARE: Final = 0.4
"""The same where two faces lie on each other: two boards of one thickness leave no more."""

FACE_LENGTH_FACTOR: Final = 2.4
"""A face screw about two and a half times as long as the first board is thick holds well."""

NAIL_LENGTH_FACTOR: Final = 3.0
"""A nail about three times as long as the first board is thick holds well."""

LEAST_LEAN_DEG: Final = 14.5
"""A screw square to a face crosses a mitre only where the bevel leans at least so much."""

MITRE_WOOD_MM: Final = 5.0
"""Wood of the first piece under the head of a screw or nail that crosses a mitre (3/16 in)."""

MITRE_EDGE_FACTOR: Final = 2.5
"""Least distance from the edge of a mitre in shank diameters: NDS commentary, from memory."""

DOWEL_SHARE: Final = 0.54
"""A dowel is about half as thick as the thinner edge it stands in, at most: 3/8 in in 23/32 in."""

DOWEL_LENGTH_FACTOR: Final = 5.1
"""A dowel about five times as long as thick is the longest one needed."""

DOWEL_SPARE_MM: Final[dict[System, float]] = {"imperial": float(MM_PER_INCH) / 32, "metric": 1.0}
"""Each hole is this much deeper than the dowel reaches: room for glue, 2 mm or 1/16 in in all."""

DOWEL_HOLD_SHARE: Final = 1.0
"""The least a dowel must stand in either piece, in its own diameters."""

DOWEL_BESIDE_MM: Final = 2.5
"""Wood left beside a dowel's hole (3/32 in)."""

DOWEL_SPACING_MM: Final = 150.0
"""At most, between dowels along a joint (6 in)."""

DOWEL_END_FACTOR: Final = 1.5
"""The least distance of a dowel from the end of a contact, in its own diameters."""

BOLT_GAUGE_SHARE: Final = 0.35
"""A bolt is about a third as thick as the thinner piece it joins, at most."""

BOLT_HOLD_SHARE: Final = 1.0
"""The least a bolt must turn into its insert, in its own diameters."""

NUT_SPARE_MM: Final = 1.0
"""A bolt comes out of its nut by a turn of its thread at least (1/32 in)."""

BOLT_SPARE_MM: Final = 2.0
"""The hole of an insert is this much deeper than insert and bolt reach."""

SCREW_GAUGE_SHARE: Final = 0.25
"""A screw driven into an edge is at most a quarter as thick as the board."""


def pocket_seat_mm(thickness_mm: float) -> float:
    """Return how far from the joint, along the screw, the head of a pocket screw sits.

    The collar of the bit is set for the board: 5/6 of its thickness, but at least 15 mm, so that
    the usual screw ends inside a second board as thick as the first.
    """
    return max(15.0, thickness_mm * 5 / 6)


def least_end_mm(goods: Fixing) -> float:
    """Return how near to the end of a contact a fastener may stand without splitting the wood."""
    if isinstance(goods, Dowel):
        return max(LEAST_END_MM, DOWEL_END_FACTOR * goods.diameter_mm)
    return LEAST_END_MM
