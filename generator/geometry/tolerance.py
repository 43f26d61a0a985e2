"""The one table of tolerances; every entry has a physical reason."""

from typing import Final

SAME_POINT_MM: Final = 0.01
"""Below what any hand tool can mark: points nearer than this are one point."""

SAME_PLANE_MM: Final = 0.05
"""A sheet of paper is 0.1 mm thick: faces closer than half of it touch."""

PARALLEL_SINE: Final = 1e-6
"""Over a 3 m sheet this angle opens 0.003 mm: directions closer than this are parallel."""

SAME_ANGLE: Final = 1e-7
"""In radians; over a 3 m sheet 0.0003 mm: lines closer than this in direction are one line."""

MEETS_SINE: Final = 0.05
"""Two planes closer than 3 degrees to parallel give no line a builder could mark."""

CONTACT_AREA_MM2: Final = 25.0
"""A patch smaller than 5 by 5 mm holds neither glue nor a screw."""

DEPTH_MM: Final = 0.02
"""Twice `SAME_POINT_MM`: what lies less than this behind a face lies in the face."""

CHORD_MM: Final = 0.1
"""How far a chord may leave its arc in pictures: less than a printed line is wide."""

TEMPLATE_CHORD_MM: Final = 0.01
"""Arcs printed at full size leave their chords by this: less than a dot of a printer."""

ROUTER_CHORD_MM: Final = 0.5
"""How far a chord may leave its arc where a router's bit must pass; room is added for as much."""

ROUNDING: Final = 1e-6
"""Of a millimetre, or of a step of a grid: sizes added up in another order differ by less."""

CLOSES_MM: Final = 0.5
"""Half a millimetre, 1/50 in: glue and clamps close such a gap, and no tape is read finer."""

SAME_AIM: Final = 1e-3
"""Between directions of screws; over the 60 mm of a long one less than a tenth of a millimetre."""
