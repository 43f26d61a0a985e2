"""Where section A-A cuts the piece, and what it meets: by rule, the same in every plan.

The plane is upright, from front to back, in the middle of the width or as near to it as it meets
the most pieces. It runs along no face, and not through a piece that stands along it: ribs and
webs are not cut lengthwise (ISO 128-3:2020, from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from manifold3d import Manifold
from shapely.geometry import Polygon

from generator.geometry.frames import Frame
from generator.geometry.plane_cuts import cut_convex, cut_solid
from generator.geometry.projection import Mesh, View
from generator.geometry.rods import place_corners
from generator.geometry.solids import build_solid
from generator.geometry.tolerance import PARALLEL_SINE, SAME_PLANE_MM, SAME_POINT_MM
from generator.model.parts import Part, Piece
from generator.model.plan import Plan
from generator.outputs.bodies import Solids

FEWEST: Final = 2
"""A section through fewer pieces tells nothing that the part's own drawing does not."""
STEPS: Final = 12
"""Places tried on either side of the middle."""
REACH: Final = 0.25
"""How far from the middle, as a part of the width."""
CLEAR_MM: Final = 1.0
"""A plane nearer than this to a face that runs along it looks as if it were in the face."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A piece cut through: polygons in mm of the room, across and up in the view."""

    piece: Piece
    polygons: tuple[Polygon, ...]
    is_level: bool

    @property
    def low_mm(self) -> float:
        """Its least height in the cut."""
        return float(min(one.bounds[1] for one in self.polygons))

    @property
    def high_mm(self) -> float:
        """Its greatest height in the cut."""
        return float(max(one.bounds[3] for one in self.polygons))


@dataclass(frozen=True, slots=True)
class Section:
    """A section through the whole piece.

    Attributes:
        x_mm: Of the plane, in the room.
        cuts: By label and copy.
        behind: Names of the pieces that stand wholly behind the plane.
    """

    x_mm: float
    cuts: tuple[Cut, ...]
    behind: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Body:
    """A piece with its part and its extent along the width."""

    part: Part
    piece: Piece
    mesh: Mesh
    low: float
    high: float
    is_along: bool
    is_level: bool


def find_section(plan: Plan, view: View, solids: Solids) -> Section | None:
    """Return the section that a view from the side shows; None where it meets too few pieces."""
    bodies = [
        _body(part, piece, solids.meshes[piece.name])
        for part in plan.parts.parts
        for piece in part.pieces
    ]
    x = _place(plan.parts.low[0], plan.parts.high[0], bodies)
    toward = view.eye[0]
    cuts = []
    made: dict[str, Manifold] = {}
    for body in bodies:
        if body.low < x < body.high:
            polygons = _cut(body, view, toward * x, made)
            if polygons:
                cuts.append(Cut(body.piece, polygons, body.is_level))
    if len(cuts) < FEWEST:
        return None
    behind = tuple(
        body.piece.name
        for body in bodies
        if max(toward * body.low, toward * body.high) <= toward * x + SAME_POINT_MM
    )
    return Section(x, tuple(cuts), behind)


def find_levels(section: Section, low_mm: float, high_mm: float) -> tuple[float, ...]:
    """Return the heights a chain of sizes goes through: floor, level pieces, top.

    Nothing where no level piece is cut. Level pieces that touch or stand side by side count as
    one, so that every link is a clear height or what lies between two of them.
    """
    level = sorted((cut.low_mm, cut.high_mm) for cut in section.cuts if cut.is_level)
    if not level:
        return ()
    levels = [low_mm]
    for low, high in level:
        if low > levels[-1] + SAME_PLANE_MM:
            levels += [low, high]
        elif len(levels) == 1:
            levels.append(high)
        else:
            levels[-1] = max(levels[-1], high)
    if high_mm > levels[-1] + SAME_PLANE_MM:
        return (*levels, high_mm)
    return (*levels[:-1], high_mm)


def _cut(
    body: _Body, view: View, nearness_mm: float, made: dict[str, Manifold]
) -> tuple[Polygon, ...]:
    """Return what a plane cuts of a piece; what is round is cut as fine as it is made.

    Args:
        body: The piece.
        view: It looks square at the plane.
        nearness_mm: Of the plane.
        made: Solids of parts in their own frames, by label: copies are cut from the same one.
    """
    if body.mesh.convex.all() and not body.mesh.smooth.any():
        return cut_convex(body.mesh, view, nearness_mm)
    label = body.part.label
    if label not in made:
        made[label] = build_solid(body.part.slab.triangles(), Frame())
    placed = made[label].transform(np.array(body.piece.frame.matrix()[:3]))
    return cut_solid(placed, view, nearness_mm)


def _body(part: Part, piece: Piece, mesh: Mesh) -> _Body:
    xs = [x for x, _, _ in place_corners(part.slab, piece.frame)]
    across = piece.frame.direction((0.0, 0.0, 1.0))
    return _Body(
        part=part,
        piece=piece,
        mesh=mesh,
        low=min(xs),
        high=max(xs),
        is_along=part.section != "round" and abs(across[0]) > 0.5,
        is_level=part.section != "round" and abs(across[2]) > 1 - PARALLEL_SINE,
    )


def _place(low: float, high: float, bodies: Sequence[_Body]) -> float:
    """Return the x of the plane: where it meets the most pieces, then nearest to the middle."""
    middle, step = (low + high) / 2, (high - low) * REACH / STEPS
    tried = [middle + sign * index * step for index in range(STEPS + 1) for sign in (1, -1)]
    return max(tried, key=lambda x: _worth(x, bodies))


def _worth(x: float, bodies: Sequence[_Body]) -> int:
    met = [body for body in bodies if body.low - CLEAR_MM < x < body.high + CLEAR_MM]
    through = [b for b in met if b.low + CLEAR_MM < x < b.high - CLEAR_MM and not b.is_along]
    along = [body for body in met if body.is_along]
    return len(through) - len(bodies) * len(along)
