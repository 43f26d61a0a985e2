"""Bevels, compound angles and pockets as the stages compute them from little designs.

Sources, beside each table: the simple bevel is t x tan(angle), arithmetic; the table of compound
angles is published as "Compound Angles in the N-sided Box" (web derivation) and as the note
"Compound-Angle Joinery" (2014), here for butt joints; the pocket is common practice, no source
(15 degrees to the face, the axis leaves the end at half the thickness), the figures are arithmetic.
"""

import math

import pytest

from generator.geometry.rods import Body
from generator.model.joinery import BoredHole, Fastener
from generator.model.parts import Edge
from generator.units import MM_PER_INCH, System, format_length
from tests.little_designs import joinery_of, part_named, parts_of, piece_named

INCH = float(MM_PER_INCH)
ANGLES = (5.0, 10.0, 15.0, 22.5, 30.0, 45.0)
SIMPLE_BEVELS = [
    (0.75, INCH, (0.0656, 0.1322, 0.2010, 0.3107, 0.4330, 0.7500)),
    (45 / 64, INCH, (0.0615, 0.1240, 0.1884, 0.2912, 0.4059, 0.7031)),
    (1.5, INCH, (0.1312, 0.2645, 0.4019, 0.6213, 0.8660, 1.5000)),
    (18.0, 1.0, (1.575, 3.174, 4.823, 7.456, 10.392, 18.000)),
]
"""Thickness, mm in its unit, and what the long point is over the short one: t x tan(angle)."""
EVERY_BEVEL = pytest.mark.parametrize(
    ("t", "unit_mm", "angle", "longer"),
    [
        (t, unit_mm, angle, longer)
        for t, unit_mm, row in SIMPLE_BEVELS
        for angle, longer in zip(ANGLES, row, strict=True)
    ],
)


@EVERY_BEVEL
def test_the_long_point_of_a_bevel_is_t_tan_angle_over_the_short_point(
    t: float, unit_mm: float, angle: float, longer: float
) -> None:
    text = f"""
parts:
  shelf:
    from: panel
    length: 500 mm
    width: 200 mm
    runs: {{length: right, width: back}}
    edges: {{right: "bevel {angle} deg, long on top"}}
"""
    part = part_named(parts_of(text, thickness_mm=t * unit_mm), "shelf")
    low, high = reach_right(part.slab)

    assert pytest.approx(500.0) == part.length_mm
    assert pytest.approx(longer, abs=shown(unit_mm)) == (high - low) / unit_mm


@EVERY_BEVEL
def test_an_edge_cut_against_a_leaning_plane_gets_the_same_bevel(
    t: float, unit_mm: float, angle: float, longer: float
) -> None:
    text = f"""
planes:
  slope: {{at: [500 mm, 0 mm, 0 mm], facing: right, turn: "{angle} deg about back"}}
parts:
  shelf:
    from: panel
    width: 200 mm
    runs: {{length: right, width: back}}
    edges: {{right: against slope}}
"""
    part = part_named(parts_of(text, thickness_mm=t * unit_mm), "shelf")
    low, high = reach_right(part.slab)
    edge = next(edge for edge in part.edges if edge.name == "right")

    assert pytest.approx(angle) == edge.tilt_deg
    assert pytest.approx(longer, abs=shown(unit_mm)) == abs(high - low) / unit_mm


@EVERY_BEVEL
def test_a_shelf_between_leaning_panels_gets_the_lean_of_the_panels(
    t: float, unit_mm: float, angle: float, longer: float
) -> None:
    text = f"""
parts:
  side:
    from: panel
    length: 2000 mm
    width: 200 mm
    frame: {{at: [-500 mm, 0 mm, -500 mm], turn: "{angle} deg about back"}}
    runs: {{length: up, width: back}}
  shelf:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {{length: left, width: back}}
    corner: [600 mm, 0 mm, 0 mm]
    edges: {{left: against side}}
"""
    part = part_named(parts_of(text, thickness_mm=t * unit_mm), "shelf")
    edge = next(edge for edge in part.edges if edge.name == "left")
    low, high = reach_right(part.slab)

    assert pytest.approx(angle) == edge.tilt_deg
    assert part.section == "trapezium"
    assert pytest.approx(longer, abs=shown(unit_mm)) == abs(high - low) / unit_mm


COMPOUND = {
    3: [(8.58, 29.25), (16.74, 27.05), (24.15, 23.55), (30.64, 18.94), (36.20, 13.42),
        (40.89, 7.18), (44.81, 0.37), (48.07, 6.88), (50.77, 14.48)],
    4: [(4.98, 0.44), (9.85, 1.73), (14.51, 3.84), (18.88, 6.72), (22.91, 10.29),
        (26.57, 14.48), (29.84, 19.21), (32.73, 24.40), (35.26, 30.00)],
    5: [(3.62, 18.32), (7.19, 19.26), (10.65, 20.81), (13.95, 22.94), (17.07, 25.62),
        (19.96, 28.80), (22.62, 32.44), (25.03, 36.48), (27.19, 40.88)],
    6: [(2.88, 30.25), (5.73, 31.00), (8.50, 32.24), (11.17, 33.95), (13.71, 36.11),
        (16.10, 38.68), (18.32, 41.64), (20.36, 44.96), (22.21, 48.59)],
    8: [(2.07, 45.18), (4.11, 45.72), (6.12, 46.61), (8.06, 47.85), (9.93, 49.41),
        (11.70, 51.29), (13.36, 53.46), (14.91, 55.91), (16.32, 58.60)],
}  # fmt: skip
"""Sides of the box → for splays of 5, 10 … 45 degrees: face mitre, tilt of the butt joint."""


@pytest.mark.parametrize(
    ("sides", "splay", "mitre", "tilt"),
    [
        (sides, 5.0 * (row + 1), mitre, tilt)
        for sides, rows in COMPOUND.items()
        for row, (mitre, tilt) in enumerate(rows)
    ],
)
def test_a_splayed_box_with_butt_joints_has_the_published_angles(
    sides: int, splay: float, mitre: float, tilt: float
) -> None:
    part = part_named(parts_of(splayed_box(sides, splay)), "front")
    ends = [edge for edge in part.edges if edge.kind == "end"]

    assert len(ends) == 2
    for edge in ends:
        assert pytest.approx(mitre, abs=0.006) == edge.mitre_deg
        assert pytest.approx(tilt, abs=0.006) == edge.tilt_deg


def test_a_box_splayed_45_degrees_has_the_exact_angles_of_its_corner() -> None:
    """Anchors: the mitre is atan(1 / sqrt 2), the butt joint leans 30 degrees."""
    part = part_named(parts_of(splayed_box(4, 45.0)), "front")
    end = next(edge for edge in part.edges if edge.name == "right")

    assert pytest.approx(math.degrees(math.atan(math.sqrt(0.5)))) == end.mitre_deg
    assert pytest.approx(30.0) == end.tilt_deg


def test_both_ends_of_a_splayed_side_have_their_long_points_on_one_face() -> None:
    part = part_named(parts_of(splayed_box(4, 15.0)), "front")
    left, right = (end(part.edges, name) for name in ("left", "right"))

    assert left.long_face == right.long_face != ""


POCKETS = [
    (0.5, "imperial", 0.933, 0.966),
    (0.625, "imperial", 1.166, 1.207),
    (45 / 64, "imperial", 1.312, 1.358),
    (0.75, "imperial", 1.400, 1.449),
    (1.0, "imperial", 1.866, 1.932),
    (1.5, "imperial", 2.799, 2.898),
    (18.0, "metric", 33.59, 34.77),
    (12.0, "metric", 22.39, 23.18),
    (15.0, "metric", 27.99, 28.98),
]
"""Thickness, edition, from the end to where the bit enters, and along the bit to the end."""


@pytest.mark.parametrize(("t", "system", "back", "along"), POCKETS)
def test_a_pocket_starts_1_866_t_from_the_end_and_runs_1_932_t_to_it(
    t: float, system: System, back: float, along: float
) -> None:
    unit_mm = INCH if system == "imperial" else 1.0
    hole, screw = pocket_and_screw(t * unit_mm, system)
    joint = 36 * INCH - t * unit_mm
    part, piece = piece_named(parts_of(POCKETED, system, t * unit_mm), "shelf")
    from_end = joint - piece.frame.to_world(hole.at)[0]
    seat = (joint - screw.head[0]) / screw.direction[0]
    near = 0.0006 if system == "imperial" else 0.006

    assert part.name == "shelf"
    assert hole.depth_mm is not None
    assert pytest.approx(back, abs=near) == from_end / unit_mm
    assert pytest.approx(along, abs=near) == (hole.depth_mm + seat) / unit_mm
    assert pytest.approx(math.sin(math.radians(15.0))) == abs(hole.direction[2])


def test_a_screw_of_1_1_4_in_set_5_8_in_back_stands_0_604_in_deep_and_drifts_0_162_in() -> None:
    """(L - s) cos 15 and (L - s) sin 15."""
    _, screw = pocket_and_screw(0.75 * INCH, "imperial")
    joint = (36 - 0.75) * INCH
    middle = (8 + 0.75 / 2) * INCH

    assert pytest.approx(1.25 * INCH) == screw.goods.length_mm
    assert pytest.approx(0.604, abs=0.0006) == (screw.tip[0] - joint) / INCH
    assert pytest.approx(0.162, abs=0.0006) == (screw.tip[2] - middle) / INCH


def test_a_case_36_in_wide_from_3_4_in_boards_is_34_1_2_in_wide_inside() -> None:
    part = part_named(parts_of(POCKETED, "imperial", 0.75 * INCH), "shelf")

    assert format_length(part.length_mm, "imperial") == "34 1/2 in"
    assert pytest.approx(34.5 * INCH) == part.length_mm


POCKETED = """
parts:
  side:
    from: panel
    length: 20 in
    width: 10 in
    runs: {length: up, width: back}
    at:
      left: {}
      right: {corner: [36 in - panel, 0 in, 0 in]}
  shelf:
    from: panel
    width: 10 in
    corner: [0 in, 0 in, 8 in]
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints:
  - {join: shelf to side.right, with: pocket screws, pockets: bottom, count: 1}
"""


def splayed_box(sides: int, splay: float) -> str:
    """Return a side of a regular box that leans out, butted between its two neighbours."""
    turn = 360.0 / sides
    return f"""
parts:
  front:
    from: panel
    width: 150 mm
    frame: {{turn: "{splay} deg about right"}}
    runs: {{length: right, width: up}}
    edges: {{left: against before, right: against after}}
  after:
    from: panel
    length: 600 mm
    width: 150 mm
    frame: {{at: [600 mm, 0 mm, 0 mm], turn: ["{turn} deg about up", "{splay} deg about right"]}}
    runs: {{length: right, width: up}}
  before:
    from: panel
    length: 600 mm
    width: 150 mm
    frame: {{turn: ["{-turn} deg about up", "{splay} deg about right"]}}
    corner: [-600 mm, 0 mm, 0 mm]
    runs: {{length: right, width: up}}
"""


def end(edges: tuple[Edge, ...], name: str) -> Edge:
    return next(edge for edge in edges if edge.name == name)


def reach_right(slab: Body) -> tuple[float, float]:
    """Return how far each face reaches along the length."""
    return slab.face_a.bounds[2] - slab.face_a.bounds[0], slab.face_b.bounds[2] - (
        slab.face_b.bounds[0]
    )


def shown(unit_mm: float) -> float:
    """Return half of the last printed figure and a hair, in the unit of the table."""
    return 0.00006 if unit_mm == INCH else 0.0006


def pocket_and_screw(thickness_mm: float, system: System) -> tuple[BoredHole, Fastener]:
    joinery = joinery_of(POCKETED, system, thickness_mm)

    assert len(joinery.fasteners) == 1
    return joinery.holes[0], joinery.fasteners[0]
