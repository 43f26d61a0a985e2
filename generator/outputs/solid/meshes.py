"""The skin of a part as triangles on a grid, and the edges one would draw on it."""

from dataclasses import dataclass
from typing import Final

from generator.geometry.projection import Solid, build_mesh
from generator.geometry.rods import Body
from generator.geometry.tolerance import CHORD_MM
from generator.geometry.vectors import Vec3

Cell = tuple[int, int, int]
"""A point of a grid, counted in its steps."""

FINE_MM: Final = 0.001
"""The grid of what is measured again by others: as fine as plan.json."""

COARSE_MM: Final = 0.1
"""The grid of what is only looked at: a tenth of a millimetre is less than a dot of a screen."""


@dataclass(frozen=True, slots=True)
class PartMesh:
    """A closed skin in the frame of the part.

    Attributes:
        grid_mm: The step that ``points`` are counted in.
        points: Every corner once.
        triangles: Indices of points, counter-clockwise seen from outside.
        edges: Where two faces meet: indices of points.
        rounds: Where two chords of an arc meet, or two flat faces: lines that one would draw only
            where the surface turns away from the eye.
    """

    grid_mm: float
    points: tuple[Cell, ...]
    triangles: tuple[tuple[int, int, int], ...]
    edges: tuple[tuple[int, int], ...]
    rounds: tuple[tuple[int, int], ...]


def make_mesh(body: Body, grid_mm: float, chord_mm: float = CHORD_MM) -> PartMesh:
    """Return the skin of a body on a grid, closed like the skin it is made of.

    A triangle of which two corners become one point is left out: what was beside it closes.
    """
    numbers: dict[Cell, int] = {}
    triangles = []
    for corners in body.triangles(chord_mm):
        a, b, c = (_number(corner, grid_mm, numbers) for corner in corners)
        if len({a, b, c}) == 3:
            triangles.append((a, b, c))
    mesh = build_mesh([Solid("", body.faces(chord_mm))])
    lines: dict[bool, list[tuple[int, int]]] = {False: [], True: []}
    for (start, end, _, _), is_smooth in zip(mesh.edges.tolist(), mesh.smooth, strict=True):
        a, b = (_number(mesh.points[i].tolist(), grid_mm, numbers) for i in (start, end))
        if a != b:
            lines[bool(is_smooth)].append((a, b))
    return PartMesh(
        grid_mm, tuple(numbers), tuple(triangles), tuple(lines[False]), tuple(lines[True])
    )


def _number(point: Vec3, grid_mm: float, numbers: dict[Cell, int]) -> int:
    x, y, z = (round(value / grid_mm) for value in point)
    return numbers.setdefault((x, y, z), len(numbers))
