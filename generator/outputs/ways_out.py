"""Which way pieces come off others in a straight line: seen from there, nothing is before them.

Looking against the way they would take, every point of the moving pieces must be in sight past
those that stay, and every point of these must have nothing of the moving ones behind it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

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
class Along:
    """All pieces of a plan seen along a way, by somebody they move towards.

    Attributes:
        low: Of every piece by name, least across, up and along the way.
        high: Greatest.
    """

    view: View
    low: Mapping[str, Vec3]
    high: Mapping[str, Vec3]

    def reach(self, names: Sequence[str]) -> tuple[float, float]:
        """Return least and greatest extent of pieces along the way."""
        return min(self.low[name][2] for name in names), max(self.high[name][2] for name in names)

    def may_meet(self, mover: str, moved: Vec3, other: str) -> bool:
        """Return whether another piece may stand before one that has moved, by their boxes."""
        is_ahead = self.high[other][2] > self.low[mover][2] + moved[2]
        return is_ahead and self.shares_room(mover, moved, other, (0.0, 0.0, 0.0), 0.0)

    def shares_room(
        self, one: str, moved: Vec3, other: str, other_moved: Vec3, least_mm: float
    ) -> bool:
        """Return whether the boxes around two pieces share so much width and height.

        How far each has moved is given across, up and along the way.
        """
        for axis in (0, 1):
            low = max(self.low[one][axis] + moved[axis], self.low[other][axis] + other_moved[axis])
            high = min(
                self.high[one][axis] + moved[axis], self.high[other][axis] + other_moved[axis]
            )
            if high - low <= least_mm:
                return False
        return True


@dataclass(frozen=True, slots=True)
class Bodies:
    """All pieces of a plan, ready to be asked which way they come out.

    Attributes:
        numbers: Of the pieces among the solids of the mesh, by name.
        corners: Of all outer loops, piece after piece, (n, 3).
        firsts: Row of the first corner of every piece.
        points: Over all faces, a little inside, (m, 3).
        normals: Of the faces they lie on, (m, 3).
        owners: Whose they are, (m,).
    """

    mesh: Mesh
    numbers: dict[str, int]
    corners: Floats
    firsts: Ints
    points: Floats
    normals: Floats
    owners: Ints

    def along(self, way: Vec3) -> Along:
        """Return all pieces as somebody sees them they move towards."""
        view = view_along(way)
        seen = view.project_all(self.corners)
        low = np.minimum.reduceat(seen, self.firsts, axis=0).tolist()
        high = np.maximum.reduceat(seen, self.firsts, axis=0).tolist()
        return Along(
            view,
            {name: tuple(one) for name, one in zip(self.numbers, low, strict=True)},
            {name: tuple(one) for name, one in zip(self.numbers, high, strict=True)},
        )

    def shadow(self, name: str, moved: Vec3, view: View, less_mm: float) -> BaseGeometry:
        """Return the hull around a piece in a view, moved across and up, and made smaller."""
        ends = np.append(self.firsts, len(self.corners))
        number = self.numbers[name]
        corners = self.corners[ends[number] : ends[number + 1]]
        points = corners @ np.array([view.right, view.up]).T + np.array(moved[:2])
        hull: BaseGeometry = shapely.convex_hull(shapely.multipoints(points))
        return hull.buffer(-less_mm)

    def comes_out(
        self, names: Sequence[str], there: Sequence[str], along: Along, lift: Vec3
    ) -> bool:
        """Return whether nothing of what is there stands in the way of pieces, once lifted."""
        lifted = along.view.project(lift)
        pairs = [
            (self.numbers[name], self.numbers[other])
            for name in names
            for other in there
            if along.may_meet(name, lifted, other)
        ]
        if not pairs:
            return True
        moving = sorted({mover for mover, _ in pairs})
        staying = sorted({other for _, other in pairs})
        way = along.view.eye
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
        corners=ring,
        firsts=np.searchsorted(owners, np.arange(len(numbers))),
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
