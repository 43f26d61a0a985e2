"""Solids in the room, for questions about the space they share."""

from collections.abc import Iterable

import numpy as np
from manifold3d import Manifold, Mesh64

from generator.geometry.channels import Triangle
from generator.geometry.frames import Frame

DIGITS = 6
"""Of corners in mm: those of two triangles that are the same point become one."""


def build_solid(skin: Iterable[Triangle], frame: Frame) -> Manifold:
    """Return the solid in a closed skin of triangles that is given in a frame."""
    triangles = [[frame.to_world(corner) for corner in triangle] for triangle in skin]
    corners, faces = np.unique(
        np.round(np.array(triangles).reshape(-1, 3), DIGITS), axis=0, return_inverse=True
    )
    return Manifold(Mesh64(corners, faces.reshape(-1, 3).astype(np.uint64)))
