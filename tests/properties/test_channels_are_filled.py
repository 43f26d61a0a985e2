"""What stands in a channel fills it: the host loses just the wood the mate takes the room of.

An independent way: the mate is intersected with the host as it was before any channel was cut.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold, Mesh64

from generator.geometry.rods import Body
from generator.geometry.slabs import Slab
from generator.model.parts import Part, Piece
from tests.little_designs import plan_of
from tests.properties.strategies import WHOLE_PLANS, Case, cases


@WHOLE_PLANS
@given(cases(), st.integers(3, 9), st.sampled_from([0, 90]))
def test_a_host_loses_the_wood_that_its_mates_take_the_room_of(
    case: Case, depth: int, stop: int
) -> None:
    """Level shelves: the end of a leaning one is slanted, and its channel is squared there."""
    level = replace(case, lean=0, front=(0, "top"), housed=(depth, stop))
    parts = plan_of(level.text().replace("pocket screws, pockets: bottom", "glue")).parts
    pieces = {piece.name: (part, piece) for part in parts.parts for piece in part.pieces}
    shelves = [solid_of(*pieces[name]) for name in pieces if name.startswith("shelf")]
    hosts = [
        solid_of(replace(part, slab=plain(part)), piece)
        for part, piece in pieces.values()
        if part.housings
    ]
    taken = sum((host ^ shelf).volume() for host in hosts for shelf in shelves)
    lost = sum((plain(part).volume_mm3 - part.slab.volume_mm3) * part.count for part in parts.parts)

    assert lost > 0.0
    assert taken == pytest.approx(lost, rel=1e-6)


def plain(part: Part) -> Body:
    """Return the solid of a part before its channels were cut."""
    assert isinstance(part.slab, Slab)
    return replace(part.slab, channels=())


def solid_of(part: Part, piece: Piece) -> Manifold:
    corners = np.array(
        [[piece.frame.to_world(corner) for corner in one] for one in part.slab.triangles()]
    ).reshape(-1, 3)
    points, faces = np.unique(np.round(corners, 6), axis=0, return_inverse=True)
    return Manifold(Mesh64(points, faces.reshape(-1, 3).astype(np.uint64)))
