"""The sample plan is itself tested: the writers' tests lean on it."""

import math

import pytest

from generator.geometry.vectors import cross, dot, subtract, unit
from generator.model.parts import FACE_A, FACE_B
from generator.units import SYSTEMS, System
from tests.samples import sample_plan


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_edge_plane_of_the_sample_points_out_of_both_faces(system: System) -> None:
    for part in sample_plan(system).parts.parts:
        t = part.slab.thickness_mm
        corners = [(x, y, 0.0) for x, y in part.slab.face_a.points]
        corners += [(x, y, t) for x, y in part.slab.face_b.points]
        for index, edge in enumerate(part.edges):
            heights = [edge.plane.height(corner) for corner in corners]
            x, y = part.slab.face_b.points[index]

            assert max(heights) == pytest.approx(0.0, abs=1e-9)
            assert edge.plane.height((x, y, t)) == pytest.approx(0.0, abs=1e-9)
            assert math.degrees(math.asin(abs(edge.plane.normal[2]))) == pytest.approx(
                edge.tilt_deg
            )


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_contact_of_the_sample_lies_in_both_sides_and_turns_about_its_normal(
    system: System,
) -> None:
    plan = sample_plan(system)
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    for contact in plan.joinery.contacts:
        first, second = pieces[contact.first], pieces[contact.second]
        plane = plan.parts.part(first.label).edges[contact.first_side].plane
        t = plan.parts.part(second.label).thickness_mm
        a, b, c = contact.outline[:3]
        turn = unit(cross(subtract(b, a), subtract(c, b)))

        assert dot(turn, contact.normal) == pytest.approx(1.0)
        assert contact.second_side in {FACE_A, FACE_B}
        for point in contact.outline:
            height = second.frame.to_local(point)[2]
            wanted = 0.0 if contact.second_side == FACE_A else t
            assert height == pytest.approx(wanted, abs=1e-9)
            assert plane.height(first.frame.to_local(point)) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_screw_of_the_sample_ends_inside_its_last_piece(system: System) -> None:
    plan = sample_plan(system)
    pieces = {piece.name: piece for piece in plan.parts.pieces()}
    for fastener in plan.joinery.fasteners:
        last = pieces[fastener.through[-1]]
        part = plan.parts.part(last.label)
        x, y, z = last.frame.to_local(fastener.tip)

        assert last.frame.is_right_handed
        assert 0 < x < part.length_mm
        assert 0 < y < part.width_mm
        assert 3 < z < part.thickness_mm - 3
