"""Mitred splayed boxes, arranged by relations only, against published compound angles.

Source: the closed forms tan M = tan(180/N) sin s and sin B = sin(180/N) cos s (s from upright) are
published as "Compound Angles in the N-sided Box" (web derivation) and as the technical note
"Compound-Angle Joinery" (2014), which derives them by plane vectors and by spherical trigonometry.
The table holds their values as rounded there; exact anchors follow from the closed forms. Butt
joints of the same boxes are in test_bevels.py.
"""

import math

import pytest

from generator.model.parts import Part
from tests.little_designs import joinery_of, parts_of

MITRED = {
    3: [(0.00, 60.00), (8.58, 59.62), (16.74, 58.53), (24.15, 56.77), (30.64, 54.47),
        (36.20, 51.71), (40.89, 48.59), (44.81, 45.19), (48.07, 41.56), (50.77, 37.76)],
    4: [(0.00, 45.00), (4.98, 44.78), (9.85, 44.14), (14.51, 43.08), (18.88, 41.64),
        (22.91, 39.86), (26.57, 37.76), (29.84, 35.40), (32.73, 32.80), (35.26, 30.00)],
    5: [(0.00, 36.00), (3.62, 35.84), (7.19, 35.37), (10.65, 34.59), (13.95, 33.53),
        (17.07, 32.19), (19.96, 30.60), (22.62, 28.78), (25.03, 26.76), (27.19, 24.56)],
    6: [(0.00, 30.00), (2.88, 29.87), (5.73, 29.50), (8.50, 28.88), (11.17, 28.02),
        (13.71, 26.95), (16.10, 25.66), (18.32, 24.18), (20.36, 22.52), (22.21, 20.70)],
    8: [(0.00, 22.50), (2.07, 22.41), (4.11, 22.14), (6.12, 21.69), (8.06, 21.08),
        (9.93, 20.29), (11.70, 19.35), (13.36, 18.27), (14.91, 17.05), (16.32, 15.70)],
}  # fmt: skip
"""Sides of the box → for splays of 0, 5 … 45 degrees: face mitre, blade tilt."""

BOX = """
parameters:
  sides: {sides}
  slope: {splay} deg
frames:
  ring: {{each: wall in 1..sides, turn: (wall - 1) * 360 deg / sides about up}}
  leaning: {{in: ring, at: [0 mm, -400 mm, 0 mm], turn: slope about right}}
parts:
  wall:
    from: panel
    frame: leaning
    width: 150 mm
    runs: {{length: right, width: up}}
    edges:
      left: "mitre with wall[wall - 1 if wall > 1 else sides]"
      right: "mitre with wall[wall + 1 if wall < sides else 1]"
joints:
  - {{join: wall to wall, with: glue}}
"""

EVERY_BOX = pytest.mark.parametrize(
    ("sides", "splay", "mitre", "tilt"),
    [
        (sides, 5.0 * row, mitre, tilt)
        for sides, rows in MITRED.items()
        for row, (mitre, tilt) in enumerate(rows)
    ],
)


@EVERY_BOX
def test_a_splayed_box_with_mitred_corners_has_the_published_angles(
    sides: int, splay: float, mitre: float, tilt: float
) -> None:
    part = wall(sides, splay)
    ends = [edge for edge in part.edges if edge.kind == "end"]

    assert sides == part.count
    assert len(ends) == 2
    for edge in ends:
        assert pytest.approx(mitre, abs=0.006) == edge.mitre_deg
        assert pytest.approx(tilt, abs=0.006) == edge.tilt_deg


@EVERY_BOX
def test_a_splayed_box_with_mitred_corners_has_the_angles_of_the_closed_forms(
    sides: int, splay: float, mitre: float, tilt: float
) -> None:
    """The table is rounded to 0.01 degrees; the forms it comes from are exact."""
    half, lean = math.pi / sides, math.radians(splay)
    exact = (
        math.degrees(math.atan(math.tan(half) * math.sin(lean))),
        math.degrees(math.asin(math.sin(half) * math.cos(lean))),
    )
    end = next(edge for edge in wall(sides, splay).edges if edge.kind == "end")

    assert pytest.approx((mitre, tilt), abs=0.006) == exact
    assert pytest.approx(exact, abs=0.0001) == (end.mitre_deg, end.tilt_deg)


def test_a_box_splayed_45_degrees_has_the_exact_angles_of_its_corner() -> None:
    """Anchors: M = atan(1 / sqrt 2) = 35.2644 degrees, B = 30 degrees."""
    end = next(edge for edge in wall(4, 45.0).edges if edge.kind == "end")

    assert pytest.approx(35.2644, abs=0.0001) == end.mitre_deg
    assert pytest.approx(30.0, abs=0.0001) == end.tilt_deg


@pytest.mark.parametrize("sides", MITRED)
def test_an_upright_box_is_bevelled_180_degrees_by_its_sides(sides: int) -> None:
    end = next(edge for edge in wall(sides, 0.0).edges if edge.kind == "end")

    assert end.mitre_deg == 0.0
    assert pytest.approx(180 / sides, abs=0.0001) == end.tilt_deg


@pytest.mark.parametrize("sides", MITRED)
def test_top_and_bottom_of_a_wall_differ_by_twice_the_width_times_the_tangent_of_the_mitre(
    sides: int,
) -> None:
    """2 W tan M = 2 W tan(180/N) sin s, the published difference of the two lengths."""
    slab = wall(sides, 15.0).slab
    (ax, _), (bx, _), (cx, _), (dx, _) = slab.face_b.points
    expected = 2 * 150 * math.tan(math.pi / sides) * math.sin(math.radians(15.0))

    assert pytest.approx(expected) == abs(abs(cx - dx) - abs(bx - ax))


@pytest.mark.parametrize("sides", MITRED)
def test_the_outer_face_is_longer_by_the_thickness_times_tan_b_over_cos_m_at_each_end(
    sides: int,
) -> None:
    """The offset t tan B / cos M = t tan(180/N) cos s: arithmetic on the published angles."""
    slab = wall(sides, 15.0).slab
    inner, outer = slab.face_a.points, slab.face_b.points
    expected = 18 * math.tan(math.pi / sides) * math.cos(math.radians(15.0))

    assert pytest.approx(expected) == abs(outer[1][0] - inner[1][0])
    assert pytest.approx(expected) == abs(outer[0][0] - inner[0][0])


@pytest.mark.parametrize("sides", MITRED)
def test_neighbours_touch_with_the_whole_of_their_mitred_edges(sides: int) -> None:
    """The area is that of the edge: its length along the slant times the slant across."""
    joinery = joinery_of(BOX.format(sides=sides, splay=15.0))
    end = next(edge for edge in wall(sides, 15.0).edges if edge.kind == "end")
    along = 150 / math.cos(math.radians(end.mitre_deg))
    across = 18 / math.cos(math.radians(end.tilt_deg))

    assert sides == len(joinery.contacts)
    for contact in joinery.contacts:
        assert pytest.approx(along * across) == contact.area_mm2


def wall(sides: int, splay: float) -> Part:
    """Return the one part a regular mitred box is made of."""
    (part,) = parts_of(BOX.format(sides=sides, splay=splay)).parts
    return part
