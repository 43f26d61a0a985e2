"""Which way pieces come off others in a straight line: seen from there, nothing is before them.

Looking against the way they would take, every point of the moving pieces must be in sight past
those that stay, and every point of these must have nothing of the moving ones behind it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.geometry.projection import (
    Floats,
    Mesh,
    View,
    build_mesh,
    view_from,
)
from generator.geometry.seen_points import find_seen
from generator.geometry.vectors import BACK, UP, Vec3, scale
from generator.model.plan import Plan
from generator.outputs.bodies import solids_of

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
    owners: Floats

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


def make_bodies(plan: Plan) -> Bodies:
    """Return the pieces of a plan with points over their faces."""
    solids = solids_of(plan, [piece.name for piece in plan.parts.pieces()])
    mesh = build_mesh(solids)
    points: list[Floats] = []
    normals: list[Floats] = []
    owners: list[int] = []
    for face, owner in enumerate(mesh.owners.tolist()):
        first, count = mesh.loops[face][0]
        ring = mesh.points[first : first + count]
        middle = ring.mean(axis=0)
        edge = (ring + np.roll(ring, -1, axis=0)) / 2
        found = [middle + (ends - middle) * part for part in SPOKES for ends in (ring, edge)]
        rows = np.concatenate(found) - mesh.normals[face] * INSIDE_MM
        points.append(rows)
        normals.append(np.repeat(mesh.normals[face][None], len(rows), axis=0))
        owners += [owner] * len(rows)
    return Bodies(
        mesh=mesh,
        numbers={name: number for number, name in enumerate(mesh.names)},
        corners={s.name: np.array([p for f in s.faces for p in f.outer]) for s in solids},
        points=np.concatenate(points),
        normals=np.concatenate(normals),
        owners=np.array(owners),
    )
