"""The law: gaps between segments and capsules are those shapely measures, crossings included.

Outside reference: GEOS, by way of shapely, which shares no code with the arrays.
"""

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.geometry.capsules import make_capsules, segment_gaps

points = st.tuples(st.integers(-40, 40), st.integers(-40, 40)).map(
    lambda point: (point[0] / 4, point[1] / 4)
)
# Some are single points, as the bubbles of labels are.
segments = st.one_of(st.tuples(points, points), points.map(lambda point: (point, point)))


@settings(max_examples=150, deadline=None)
@given(st.lists(segments, min_size=1, max_size=6), st.lists(segments, min_size=1, max_size=6))
def test_gaps_between_segments_are_those_of_shapely(
    ours: list[tuple[tuple[float, float], ...]], theirs: list[tuple[tuple[float, float], ...]]
) -> None:
    expected = shapely.distance(
        shapely.linestrings(ours)[:, None], shapely.linestrings(theirs)[None, :]
    )

    assert np.allclose(expected, segment_gaps(np.array(ours), np.array(theirs)), atol=1e-9)


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(segments, st.integers(0, 20)), max_size=6),
    st.lists(segments, min_size=1, max_size=6),
)
def test_what_meets_a_capsule_is_within_its_radius(
    given_ones: list[tuple[tuple[tuple[float, float], ...], int]],
    lines: list[tuple[tuple[float, float], ...]],
) -> None:
    # Radii lie between the quarters that distances along the axes are made of.
    rows = [(one[0], one[1], radius / 4 + 0.11) for one, radius in given_ones]
    capsules = make_capsules(rows)
    drawn = np.asarray(shapely.linestrings([row[:2] for row in rows] or np.zeros((0, 2, 2))))
    radii = np.array([row[2] for row in rows])
    gaps = shapely.distance(shapely.linestrings(lines)[:, None], drawn[None, :]) - radii
    starts = shapely.points([line[0] for line in lines])
    away = shapely.distance(starts[:, None], drawn[None, :]) - radii
    is_sure = np.abs(gaps).min(axis=1, initial=np.inf) > 1e-9

    assert (gaps <= 0).any(axis=1)[is_sure].tolist() == (
        capsules.meet(np.array(lines))[is_sure].tolist()
    )
    assert np.allclose(
        np.maximum(away.min(axis=1, initial=np.inf), 0.0),
        capsules.away(np.array([line[0] for line in lines])),
        atol=1e-9,
    )
