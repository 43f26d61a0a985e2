"""Whether single points are seen from one side, or from many: cheap, for choosing a view."""

from collections.abc import Collection, Sequence

import numpy as np

from generator.geometry.projection import Floats, Ints, Mesh, Seen, Truths, View, look_from
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
    ((rows, _),) = find_hidden(mesh, [view], [points], owners)
    seen: Truths = np.ones(len(points), dtype=np.bool_)
    seen[rows] = False
    return seen


def find_hidden(
    mesh: Mesh,
    views: Sequence[View],
    points: Sequence[Floats],
    owners: Collection[int] | None = None,
) -> list[tuple[Ints, Ints]]:
    """Return for every view which of its points are hidden, and the solid that hides each.

    A point that several solids hide is there for each of them.

    Args:
        mesh: Solids that may stand between points and eye.
        views: Which ways the eye is.
        points: For every view (n, 3) in the room.
        owners: Numbers of the solids that count; all where none are given.
    """
    counts_in: Truths = np.ones(len(mesh.starts), dtype=np.bool_)
    if owners is not None:
        counts_in = np.isin(mesh.owners, [*owners])
    looks = look_from(mesh, views)
    placed = [view.project_all(one) for one, view in zip(points, views, strict=True)]
    pairs = [_find_pairs(seen, at, counts_in) for seen, at in zip(looks, placed, strict=True)]
    sizes = [len(rows) for rows, _ in pairs]
    faces = np.concatenate([columns for _, columns in pairs])
    at = np.concatenate([one[rows, :2] for one, (rows, _) in zip(placed, pairs, strict=True)])
    # The corners of all views stand one view after the other.
    corners = np.concatenate([seen.points[:, :2] for seen in looks])
    first = np.repeat(np.arange(len(views)) * len(mesh.points), sizes)
    inside = _lie_inside(mesh, corners, first, faces, at)
    found = []
    ends = np.cumsum(sizes)
    for (rows, columns), end in zip(pairs, ends.tolist(), strict=True):
        covered = inside[end - len(rows) : end]
        found.append((rows[covered], mesh.owners[columns[covered]]))
    return found


def _find_pairs(seen: Seen, at: Floats, counts_in: Truths) -> tuple[Ints, Ints]:
    """Return pairs of a point and a face towards the eye that may hide it, by their boxes."""
    front = np.flatnonzero(seen.front & counts_in)
    may = at[:, None, 0] > seen.low[None, front, 0]
    may &= at[:, None, 0] < seen.high[None, front, 0]
    may &= at[:, None, 1] > seen.low[None, front, 1]
    may &= at[:, None, 1] < seen.high[None, front, 1]
    slopes = seen.slopes[front]
    may &= at[:, :2] @ slopes[:, :2].T + slopes[:, 2] > at[:, None, 2] + DEPTH_MM
    rows, columns = np.nonzero(may)
    return rows, front[columns]


def _lie_inside(mesh: Mesh, corners: Floats, first: Ints, faces: Ints, at: Floats) -> Truths:
    """Return whether points lie within faces on paper: each point within its face.

    Args:
        mesh: The solids.
        corners: On paper, view after view.
        first: For every point where the corners of its view begin.
        faces: For every point a face.
        at: The points on paper.
    """
    counts = mesh.counts[faces]
    pair = np.repeat(np.arange(len(faces)), counts)
    corner = mesh.starts[faces][pair] + np.arange(len(pair)) - (np.cumsum(counts) - counts)[pair]
    ahead, middle = first[pair], at[pair]
    a = corners[ahead + corner] - middle
    b = corners[ahead + mesh.follows[corner]] - middle
    crossing = (a[:, 1] >= 0) != (b[:, 1] >= 0)
    rise = np.where(crossing, b[:, 1] - a[:, 1], 1.0)
    right = crossing & (a[:, 0] - a[:, 1] * (b[:, 0] - a[:, 0]) / rise > 0)
    inside: Truths = np.bincount(pair[right], minlength=len(faces)) % 2 == 1
    return inside
