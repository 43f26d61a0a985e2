"""The law: a point counts as seen exactly when no ray from it to the eye is stopped."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.geometry.projection import View, build_mesh
from generator.geometry.seen_points import find_seen
from tests.properties.test_hidden_line_agrees_with_rays import boards, stacks, views
from tests.rays import Board, nearest, solids_of, triangles_of


@settings(max_examples=20, deadline=None)
@given(boards=boards() | stacks(), view=views(), seed=st.integers(0, 999))
def test_points_are_seen_where_rays_run_free(boards: list[Board], view: View, seed: int) -> None:
    triangles = triangles_of(boards)
    random = np.random.default_rng(seed)
    corners = triangles[random.integers(0, len(triangles), 40)]
    weights = random.dirichlet((1.0, 1.0, 1.0), 40)
    points = np.sum(corners * weights[:, :, None], axis=1) + random.normal(0, 20, (40, 3))
    seen = find_seen(build_mesh(solids_of(boards)), view, points)
    ahead = [nearest(triangles, point, view) for point in points]
    clear = [abs(distance) > 0.5 for distance in ahead]

    assert [s for s, c in zip(seen.tolist(), clear, strict=True) if c] == [
        distance < 0 for distance, c in zip(ahead, clear, strict=True) if c
    ]
