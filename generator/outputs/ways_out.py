"""Which way pieces come off others in a straight line: seen from there, nothing is before them.

Looking against the way they would take, every point of the moving pieces must be in sight past
those that stay, and every point of these must have nothing of the moving ones behind it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import Floats, Ints, Mesh, View, view_from
from generator.geometry.seen_points import find_seen
from generator.geometry.vectors import BACK, UP, Vec3, scale
from generator.outputs.bodies import Solids

SPOKES: Final = (0.1, 0.5, 0.9)
"""Where points are taken between the middle of a face and its corners, and along its sides."""
INSIDE_MM: Final = 0.1
"""So far inside its piece a point lies, so that what touches is not in its way."""
AHEAD: Final = 0.02
"""Cosine: faces that look less along the way are left aside."""


@dataclass(frozen=True, slots=True)
class Bodies:
    """All pieces of a plan, ready to be asked which way they come out.

    Attributes:
        numbers: Of the pieces among the solids of the mesh, by name.
        corners: Of every piece, (n, 3).
        points: Over all faces, a little inside, (m, 3).
        normals: Of the faces they lie on, (m, 3).
        owners: Whose they are, (m,).
    """

    mesh: Mesh
    numbers: dict[str, int]
    corners: dict[str, Floats]
    points: Floats
    normals: Floats
    owners: Ints

    def reach(self, names: Sequence[str], way: Vec3) -> tuple[float, float]:
        """Return least and greatest extent of pieces along a way."""
        values = np.concatenate([self.corners[name] for name in names]) @ np.array(way)
        return float(values.min()), float(values.max())

    def shadow(self, name: str, way: Vec3) -> Floats:
        """Return the corners of a piece seen along a way, (n, 2)."""
        view = view_along(way)
        flat: Floats = self.corners[name] @ np.array([view.right, view.up]).T
        return flat

    def comes_out(self, names: Sequence[str], there: Sequence[str], way: Vec3, lift: Vec3) -> bool:
        """Return whether nothing of what is there stands in the way of pieces, once lifted."""
        moving = [self.numbers[name] for name in names]
        staying = [self.numbers[name] for name in there]
        return self._is_clear(moving, staying, way, lift) and self._is_clear(
            staying, moving, scale(way, -1.0), scale(lift, -1.0)
        )

    def _is_clear(
        self, movers: Sequence[int], others: Sequence[int], way: Vec3, lift: Vec3
    ) -> bool:
        ahead = np.isin(self.owners, movers) & (self.normals @ np.array(way) > AHEAD)
        points = self.points[ahead] + np.array(lift)
        return not len(points) or bool(find_seen(self.mesh, view_along(way), points, others).all())


def view_along(way: Vec3) -> View:
    """Return the view of somebody pieces move towards."""
    return view_from(way, BACK if abs(way[2]) > 0.9 else UP)


def make_bodies(solids: Solids) -> Bodies:
    """Return the pieces of a plan with points over their faces."""
    mesh = solids.whole()
    corners, faces = mesh.outer_corners()
    ring = mesh.points[corners]
    edge = (ring + mesh.points[mesh.follows[corners]]) / 2
    middle = _middles(ring, faces)
    inside = mesh.normals[faces] * INSIDE_MM
    points = [middle + (ends - middle) * part - inside for part in SPOKES for ends in (ring, edge)]
    owners = mesh.owners[faces]
    numbers = {name: number for number, name in enumerate(mesh.names)}
    return Bodies(
        mesh=mesh,
        numbers=numbers,
        corners={name: ring[owners == number] for name, number in numbers.items()},
        points=np.concatenate(points),
        normals=np.tile(mesh.normals[faces], (len(points), 1)),
        owners=np.tile(owners, len(points)),
    )


def _middles(ring: Floats, faces: Ints) -> Floats:
    """Return for every corner the middle of its face."""
    first = np.flatnonzero(np.diff(faces, prepend=-1))
    sums = np.add.reduceat(ring, first, axis=0)
    counts = np.diff(first, append=len(ring))
    middles: Floats = np.repeat(sums / counts[:, None], counts, axis=0)
    return middles
