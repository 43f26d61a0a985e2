"""Panels of the pictures of saw settings: across a tilted blade, and from above on an angle.

saw base  ____  /___       The kept piece lies to the left under the straightedge, the face
============= / ====       with the long point is up, and the blade leans in under it: what
keep        |/ waste       lies beyond the blade is waste.
____________/_______
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from generator.geometry.vectors import Vec2
from generator.outputs.dimensions import draw_angle
from generator.outputs.saw_cuts import Lean
from generator.outputs.scene import (
    SMALLEST_TEXT_MM,
    TEXT_MM,
    Anchor,
    Area,
    Disc,
    Item,
    Stroke,
    Tone,
    Words,
)
from generator.outputs.text_width import text_width_mm
from generator.units import format_angle

PANEL_MM: Final = 84.0
"""Width of one panel; the long point stands at `MARK_MM` from its left."""
MARK_MM: Final = 58.0
KERF_MM: Final = 2.0
"""Drawn as wide as a thin blade, at whatever scale."""
BASE_MM: Final = 2.0
"""Thickness of the saw's base plate on paper."""
ABOVE_MM: Final = 23.0
"""How far the blade stands out above the wood on paper."""
HALF_MM: Final = 15.0
"""Half the width of a board seen from above."""
GUIDE_MM: Final = 6.0
"""Width of the straightedge on paper."""
SHOWN_ABOVE_MM: Final = 12.0
"""From the mark to the straightedge, seen from above: half the width of a base plate."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel: what is drawn, and how far it reaches below and above its zero."""

    items: tuple[Item, ...]
    low_mm: float
    high_mm: float


def kept_section(tilt_deg: float, thick_mm: float) -> tuple[Vec2, ...]:
    """Return the kept piece across the cut, its long point at (0, 0) and its upper face at 0."""
    under = thick_mm * math.tan(math.radians(tilt_deg))
    return ((0.0, 0.0), (-MARK_MM + 2.0, 0.0), (-MARK_MM + 2.0, -thick_mm), (-under, -thick_mm))


def kept_top(angle_deg: float, lean: Lean) -> tuple[Vec2, ...]:
    """Return the kept piece from above; the middle of the cut is at (0, 0)."""
    shift = _leftward(angle_deg, lean)
    far, near = -HALF_MM * shift, HALF_MM * shift
    left = -MARK_MM + 2.0
    return ((near, -HALF_MM), (far, HALF_MM), (left, HALF_MM), (left, -HALF_MM))


def draw_tilt(tilt_deg: float, thick_mm: float) -> Panel:
    """Return a section across a tilted blade: base, straightedge, kept piece and waste.

    Args:
        tilt_deg: Of the blade, from square.
        thick_mm: Of the wood, on paper.
    """
    lean = math.tan(math.radians(tilt_deg))
    wide = KERF_MM / math.cos(math.radians(tilt_deg))
    right = PANEL_MM - MARK_MM - 2.0
    kept = kept_section(tilt_deg, thick_mm)
    waste = (
        (wide, 0.0),
        (wide - thick_mm * lean, -thick_mm),
        (right, -thick_mm),
        (right, 0.0),
    )
    blade = _blade(tilt_deg, thick_mm)
    guide = _box(-MARK_MM + 6.0, 0.0, -MARK_MM + 6.0 + 2 * GUIDE_MM, 7.0)
    edge = guide[1][0]
    slot = BASE_MM * lean
    items: list[Item] = [
        *_wood(kept, "section", open_side=1),
        *_wood(waste, "waste"),
        *_solid(_box(edge, 0.0, -1.2, BASE_MM), "quiet"),
        *_solid(_box(wide + slot + 1.2, 0.0, right - 1.0, BASE_MM), "quiet"),
        *_solid(guide, "wood"),
        *_solid(blade, "bubble"),
        *_angle(tilt_deg),
        Disc(center=(0.0, 0.0), radius_mm=0.7, tone="screw"),
        _words((-MARK_MM / 2 - 6.0, -thick_mm / 2 - 1.0), "keep"),
        _words((right / 2 + wide / 2 + 1.5, -thick_mm / 2 - 1.0), "waste"),
        _words((-MARK_MM + 6.0, 8.6), "straightedge", "start"),
        _words(((edge - 1.2) / 2 + 1.0, BASE_MM + 1.2), "saw base"),
        *_long_point(tilt_deg, thick_mm),
    ]
    return Panel(tuple(items), -thick_mm - 9.0, ABOVE_MM + 6.0)


def draw_angled(angle_deg: float, lean: Lean) -> Panel:
    """Return a board from above with an angled cut: straightedge, kept piece and waste."""
    shift = _leftward(angle_deg, lean)
    wide = KERF_MM / math.cos(math.radians(angle_deg))
    kept = kept_top(angle_deg, lean)
    near, far = kept[0][0], kept[1][0]
    right = PANEL_MM - MARK_MM - 2.0
    waste = (
        (min(near + wide, right), -HALF_MM),
        (max(right, near + wide + 2), -HALF_MM),
        (max(right, far + wide + 2), HALF_MM),
        (min(far + wide, right), HALF_MM),
    )
    items: list[Item] = [
        *_wood(kept, "wood", open_side=2),
        *_wood(waste, "waste"),
        *_solid(_guide(shift), "section"),
        *_square(angle_deg, lean, near),
        _words((-MARK_MM + 7.0, -1.0), "keep", "start"),
        replace(_words((right - 1.0, -1.0), "waste", "end"), halo=True),
        _guide_words(shift, right),
    ]
    return Panel(tuple(items), -HALF_MM - 6.0, HALF_MM + 9.0)


def moved_words(at: Vec2, text: str, *, bold: bool = False) -> Words:
    """Return a line of text that starts at a point."""
    size = TEXT_MM if bold else SMALLEST_TEXT_MM
    return Words(at=at, text=text, size_mm=size, bold=bold)


def _leftward(angle_deg: float, lean: Lean) -> float:
    """Return how far a cut leads to the left for every mm away from the reader."""
    return math.tan(math.radians(angle_deg)) * (-1.0 if lean == "right" else 1.0)


def _blade(tilt_deg: float, thick_mm: float) -> tuple[Vec2, ...]:
    lean = math.tan(math.radians(tilt_deg))
    wide = KERF_MM / math.cos(math.radians(tilt_deg))
    low, high = -thick_mm - 3.0, ABOVE_MM
    return (
        (low * lean, low),
        (low * lean + wide, low),
        (high * lean + wide, high),
        (high * lean, high),
    )


def _angle(tilt_deg: float) -> list[Item]:
    """Return the line square to the wood, and the tilt between it and the blade."""
    radius = ABOVE_MM - 5.0
    reach = ABOVE_MM + 1.0
    middle = math.radians(90 - tilt_deg / 2)
    text = format_angle(tilt_deg)
    at = (math.cos(middle) * (radius + 2.0), ABOVE_MM + 2.2)
    return [
        Stroke(points=((0.0, BASE_MM + 0.5), (0.0, reach)), layer="center"),
        *draw_angle((0.0, 0.0), radius, 90 - tilt_deg, 90.0),
        Words(at=at, text=text, size_mm=TEXT_MM, anchor="middle", bold=True, halo=True),
    ]


def _long_point(tilt_deg: float, thick_mm: float) -> list[Item]:
    """Return the name of the long point on a leader from below, left of the cut."""
    under = thick_mm * math.tan(math.radians(tilt_deg))
    x, y = -max(14.0, under + 8.0), -thick_mm - 3.4
    text = _words((x - 1.0, y - 2.2), "long point: the mark", "end")
    return [Stroke(points=((0.0, 0.0), (x, y)), layer="leader"), text]


def _guide(shift: float) -> tuple[Vec2, ...]:
    """Return the straightedge, along the cut and a base's half width away from it."""
    reach = HALF_MM + 5.0
    stretch = math.hypot(1.0, shift)
    near, far = SHOWN_ABOVE_MM * stretch, (SHOWN_ABOVE_MM + GUIDE_MM) * stretch
    return (
        (reach * shift - near, -reach),
        (-reach * shift - near, reach),
        (-reach * shift - far, reach),
        (reach * shift - far, -reach),
    )


def _guide_words(shift: float, right: float) -> Words:
    """Return the name of the straightedge, right of its near end."""
    text = "straightedge"
    x = (HALF_MM + 5.0) * shift - SHOWN_ABOVE_MM * math.hypot(1.0, shift) + 1.5
    limit = right - text_width_mm(text, SMALLEST_TEXT_MM)
    return _words((min(x, limit), -HALF_MM - 4.6), text, "start")


def _square(angle_deg: float, lean: Lean, near: float) -> list[Item]:
    """Return a line square to the board through the near end of the cut, and the angle."""
    corner = (near, -HALF_MM)
    reach = 2 * HALF_MM + 3.0
    radius = 2 * HALF_MM - 4.0
    low, high = (90.0, 90.0 + angle_deg) if lean == "left" else (90.0 - angle_deg, 90.0)
    text = format_angle(angle_deg)
    limit = PANEL_MM - MARK_MM - text_width_mm(text, TEXT_MM, bold=True)
    return [
        Stroke(points=(corner, (near, -HALF_MM + reach)), layer="center"),
        *draw_angle(corner, radius, low, high),
        Words(
            at=(min(near + 1.0, limit), HALF_MM + 3.6),
            text=text,
            size_mm=TEXT_MM,
            bold=True,
            halo=True,
        ),
    ]


def _box(left: float, low: float, right: float, high: float) -> tuple[Vec2, ...]:
    return ((left, low), (right, low), (right, high), (left, high))


def _solid(ring: Sequence[Vec2], tone: Tone) -> list[Item]:
    return [
        Area(rings=(tuple(ring),), tone=tone),
        Stroke(points=tuple(ring), layer="dimension", closed=True),
    ]


def _wood(ring: Sequence[Vec2], tone: Tone, open_side: int | None = None) -> list[Item]:
    """Return a piece of wood with its outline, left open where it goes on."""
    points = tuple(ring)
    if open_side is None:
        line = Stroke(points=points, layer="outline", closed=True)
    else:
        after = open_side + 1
        line = Stroke(points=points[after:] + points[:after], layer="outline")
    return [Area(rings=(points,), tone=tone), line]


def _words(at: Vec2, text: str, anchor: Anchor = "middle") -> Words:
    return Words(at=at, text=text, size_mm=SMALLEST_TEXT_MM, anchor=anchor)
