"""Whether single points are seen from one side: cheap, for choosing a view."""

from collections.abc import Collection

import numpy as np

from generator.geometry.projection import Floats, Mesh, Truths, View, look_at
from generator.geometry.tolerance import DEPTH_MM


def find_seen(
    mesh: Mesh, view: View, points: Floats, owners: Collection[int] | None = None
) -> Truths:
    """Return for every one of (n, 3) points whether nothing stands between it and the eye.

    Args:
        mesh: Solids that may stand there.
        view: Which way the eye is.
        points: In the room.
        owners: Numbers of the solids that count; all where none are given.
    """
    seen = look_at(mesh, view)
    at = points @ np.array([view.right, view.up, view.eye], dtype=np.float64).T
    counts_in = seen.front if owners is None else seen.front & np.isin(mesh.owners, list(owners))
    front = np.flatnonzero(counts_in)
    may = np.ones((len(at), len(front)), dtype=np.bool_)
    for axis in (0, 1):
        may &= at[:, None, axis] > seen.low[None, front, axis]
        may &= at[:, None, axis] < seen.high[None, front, axis]
    slopes = seen.slopes[front]
    nearness = at[:, :2] @ slopes[:, :2].T + slopes[:, 2]
    may &= nearness > at[:, None, 2] + DEPTH_MM
    which, columns = np.nonzero(may)
    faces = front[columns]
    counts = mesh.counts[faces]
    pair = np.repeat(np.arange(len(faces)), counts)
    corner = mesh.starts[faces][pair] + np.arange(len(pair)) - (np.cumsum(counts) - counts)[pair]
    a = seen.points[corner, :2] - at[which[pair], :2]
    b = seen.points[mesh.follows[corner], :2] - at[which[pair], :2]
    crossing = (a[:, 1] >= 0) != (b[:, 1] >= 0)
    rise = np.where(crossing, b[:, 1] - a[:, 1], 1.0)
    right = crossing & (a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / rise > 0)
    inside = np.bincount(pair[right], minlength=len(faces)) % 2 == 1
    result: Truths = np.ones(len(at), dtype=np.bool_)
    result[which[inside]] = False
    return result
