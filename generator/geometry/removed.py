"""What channels take off a slab: its volume and its moments, exactly.

At any height what is taken off is the section of the slab, but for its holes, within the outlines
of the channels that reach that height. Between two heights at which a corner passes over a side,
its corners move along straight lines: area and moments are then polynomials Simpson's rule holds
for exactly.
"""

import itertools
import math
from collections.abc import Iterable, Sequence

from shapely import get_coordinates, union_all
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from generator.geometry.channels import Channel
from generator.geometry.outlines import Outline
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2

Integrals = tuple[float, float, float, float]

FINE_CHORD_MM = SAME_POINT_MM / 100
"""How far chords leave arcs here: an arc within a channel is far shorter than a part is large."""


def integrate_channels(
    faces: tuple[Outline, Outline],
    holes: Iterable[Outline],
    thickness_mm: float,
    channels: Sequence[Channel],
) -> Integrals:
    """Return the volume that channels take off, and the integrals of x, y and z over it."""
    levels = sorted({z for channel in channels for z in channel.levels(thickness_mm)})
    total = [0.0, 0.0, 0.0, 0.0]
    open_holes = union_all([hole.polygon(FINE_CHORD_MM) for hole in holes])
    for low, high in itertools.pairwise(levels):
        within = [c for c in channels if c.levels(thickness_mm)[0] <= low]
        within = [c for c in within if c.levels(thickness_mm)[1] >= high]
        if not within:
            continue
        void = union_all([c.outline.polygon() for c in within]).difference(open_holes)
        heights = [low, *_passing_heights(faces, thickness_mm, void, low, high), high]
        for start, end in itertools.pairwise(heights):
            for i, value in enumerate(_integrate(faces, thickness_mm, void, start, end)):
                total[i] += value
    return (total[0], total[1], total[2], total[3])


def _integrate(
    faces: tuple[Outline, Outline], thickness_mm: float, void: BaseGeometry, low: float, high: float
) -> Integrals:
    """Return the integrals over a layer by Simpson's rule."""
    total = [0.0, 0.0, 0.0, 0.0]
    rise = high - low
    for z, weight in ((low, rise / 6), ((low + high) / 2, 4 * rise / 6), (high, rise / 6)):
        taken = Polygon(_section(faces, thickness_mm, z)).intersection(void)
        area = float(taken.area)
        if area:
            x, y = get_coordinates(taken.centroid)[0]
            for i, value in enumerate((area, area * float(x), area * float(y), area * z)):
                total[i] += weight * value
    return (total[0], total[1], total[2], total[3])


def _section(faces: tuple[Outline, Outline], thickness_mm: float, z_mm: float) -> list[Vec2]:
    part = z_mm / thickness_mm
    low, high = (face.flattened(FINE_CHORD_MM) for face in faces)
    return [
        (a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part)
        for a, b in zip(low, high, strict=True)
    ]


def _passing_heights(
    faces: tuple[Outline, Outline], thickness_mm: float, void: BaseGeometry, low: float, high: float
) -> list[float]:
    """Return the heights at which a corner of the slab or of the void passes over a side."""
    if faces[0].points == faces[1].points:
        return []
    corners = list(zip(faces[0].points, faces[1].points, strict=True))
    sides = list(itertools.pairwise([*corners, corners[0]]))
    heights: set[float] = set()
    for polygon in getattr(void, "geoms", [void]):
        ring = [(float(x), float(y)) for x, y in get_coordinates(polygon)]
        still = [(point, point) for point in ring]
        heights.update(_meetings(corners, list(itertools.pairwise(still))))
        heights.update(_meetings(still, sides))
    inside = sorted(part * thickness_mm for part in heights)
    return [z for z in inside if low < z < high]


Path = tuple[Vec2, Vec2]
"""Where a corner is on face A and on face B."""


def _meetings(corners: Sequence[Path], sides: Sequence[tuple[Path, Path]]) -> Iterable[float]:
    """Yield the parts of the thickness at which a corner lies on the line of a side.

    A corner or a side moves, never both, and a side keeps its direction: how far the corner is
    from the line changes evenly from face to face.
    """
    for corner in corners:
        for start, end in sides:
            low, high = (_distance(start[face], end[face], corner[face]) for face in (0, 1))
            if low * high < 0:
                yield low / (low - high)


def _distance(start: Vec2, end: Vec2, point: Vec2) -> float:
    """Return how far a point lies to the left of a line."""
    along = (end[0] - start[0], end[1] - start[1])
    turn = along[0] * (point[1] - start[1]) - along[1] * (point[0] - start[0])
    return turn / math.hypot(*along)
