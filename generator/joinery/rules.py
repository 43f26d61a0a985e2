"""The rules of thumb screws are placed by: common practice, no source, each in one place."""

from typing import Final

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

SCREW_GAUGE_SHARE: Final = 0.25
"""A screw driven into an edge is at most a quarter as thick as the board."""


def pocket_seat_mm(thickness_mm: float) -> float:
    """Return how far from the joint, along the screw, the head of a pocket screw sits.

    The collar of the bit is set for the board: 5/6 of its thickness, but at least 15 mm, so that
    the usual screw ends inside a second board as thick as the first.
    """
    return max(15.0, thickness_mm * 5 / 6)
