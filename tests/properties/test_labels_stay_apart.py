"""The law: however many labels a picture has, their bubbles overlap nothing and stay on paper."""

from itertools import combinations
from math import dist

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box

from generator.outputs.bodies import Box
from generator.outputs.labels import AWAY_MM, RADIUS_MM, Target, column_height, place_labels

spots = st.lists(
    st.tuples(st.integers(0, 1290), st.integers(0, 900), st.sampled_from([1.0, 3.0, 8.0, 30.0])),
    min_size=1,
    max_size=30,
    unique_by=lambda spot: (spot[0] // 20, spot[1] // 20),
)


@settings(max_examples=40, deadline=None)
@given(spots=spots, short=st.booleans())
def test_bubbles_and_leaders_keep_clear_of_each_other(
    spots: list[tuple[int, int, float]], short: bool
) -> None:
    height = max(column_height(len(spots)), 20.0 if short else 90.0)
    picture = Box(15.0, 2.0, 145.0, 2.0 + height)
    targets = []
    for number, (x, y, size) in enumerate(spots):
        left, low = 15.0 + x / 10, 2.0 + y / 10 * (height - 8) / 90
        targets.append(Target(str(number), (box(left, low, left + size, low + size),)))
    labels = place_labels(targets, picture)
    leaders = [(label, LineString([label.at, label.on])) for label in labels if label.has_leader]

    assert len(labels) == len(targets)
    for label in labels:
        if label.has_leader:
            assert picture.low <= label.at[1] - RADIUS_MM + 1e-9
            assert label.at[1] + RADIUS_MM <= picture.high + 1e-9
            assert label.at[0] in {picture.left - AWAY_MM, picture.right + AWAY_MM}
    for (_, one), (_, other) in combinations(leaders, 2):
        assert not one.crosses(other)
    outside = [label for label in labels if label.has_leader]
    for a, b in combinations(outside, 2):
        assert dist(a.at, b.at) >= 2 * RADIUS_MM
    for owner, line in leaders:
        for neighbour in labels:
            if neighbour is not owner:
                assert line.distance(Point(neighbour.at)) >= RADIUS_MM * 0.8
