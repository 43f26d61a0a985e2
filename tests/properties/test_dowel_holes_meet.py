"""Both holes of a dowel lie on one line, meet at the joint, and leave wood before their ends."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.geometry.vectors import add, dot, norm, scale, subtract
from generator.joinery.stage import make_joints
from generator.model.fixings import Dowel
from generator.model.parts import Parts
from tests.little_designs import edition_of, parts_of, piece_named

LEANING = """
parts:
  side:
    from: panel
    length: 700 mm
    width: 400 mm
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    length: 300 mm
    width: {width:.3f} mm
    frame: {{at: [0 mm, 50 mm, 350 mm], turn: {lean:.3f} deg about back}}
    runs: {{length: right, width: back}}
    edges: {{left: against side}}
joints:
  - {{join: {join}, with: dowels}}
"""


@settings(max_examples=60, deadline=None)
@given(
    thickness=st.floats(11.0, 45.0),
    lean=st.floats(-35.0, 35.0),
    width=st.floats(60.0, 340.0),
    turned=st.booleans(),
)
def test_both_holes_of_a_dowel_meet_and_neither_comes_out(
    thickness: float, lean: float, width: float, turned: bool
) -> None:
    join = "side to shelf" if turned else "shelf to side"
    text = LEANING.format(width=width, lean=lean, join=join)
    parts = parts_of(text, thickness_mm=thickness)
    joinery, problems = make_joints(edition_of(text, thickness_mm=thickness), parts)

    if joinery is None:
        assert {problem.code for problem in problems} <= {"J102", "J103", "J105", "J106"}
        return
    for one in joinery.fasteners:
        assert isinstance(one.goods, Dowel)
        first, second = (hole for hole in joinery.holes if hole.fastener == one.id)
        frames = {name: piece_named(parts, name)[1].frame for name in one.through}
        mouths = [frames[hole.piece].to_world(hole.at) for hole in (first, second)]
        assert norm(subtract(*mouths)) < 1e-6
        ways = [frames[hole.piece].direction(hole.direction) for hole in (first, second)]
        assert dot(*ways) == pytest.approx(-1.0)
        depths = [hole.depth_mm or 0.0 for hole in (first, second)]
        assert sum(depths) == pytest.approx(one.goods.length_mm + 2.0)
        for hole, depth in zip((first, second), depths, strict=True):
            end = add(hole.at, scale(hole.direction, depth))
            assert _inside_mm(parts, hole.piece, end) >= 2.4


def _inside_mm(parts: Parts, name: str, point: tuple[float, float, float]) -> float:
    """Return how far inside all faces and edges of a piece a point of its frame lies."""
    part, _ = piece_named(parts, name)
    edges = [edge.plane.offset - dot(edge.plane.normal, point) for edge in part.edges]
    return min(point[2], part.thickness_mm - point[2], *edges)
