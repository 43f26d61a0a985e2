"""What a plane cuts of solids: the quick way agrees with the one for all solids."""

import pytest

from generator.geometry.plane_cuts import cut_convex, cut_solid
from generator.geometry.projection import view_from
from generator.geometry.solids import build_solid
from generator.geometry.vectors import Vec3
from generator.model.plan import Plan
from generator.outputs.bodies import solids_of
from tests.sample_stand import sample_stand
from tests.samples import sample_plan


@pytest.mark.parametrize("plan", [sample_stand("metric"), sample_plan("imperial")])
@pytest.mark.parametrize("eye", [(1.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.3, -0.8, 0.5)])
def test_solids_without_dents_are_cut_as_all_others_are(plan: Plan, eye: Vec3) -> None:
    view = view_from(eye)
    cut = 0
    for part in plan.parts.parts:
        for piece in part.pieces:
            mesh = solids_of(plan).meshes[piece.name]
            if not mesh.convex.all():
                continue
            heights = [view.project(point)[2] for point in mesh.points.tolist()]
            nearness = 0.37 * min(heights) + 0.63 * max(heights)
            (expected,) = cut_solid(build_solid(part.slab.triangles(), piece.frame), view, nearness)
            (found,) = cut_convex(mesh, view, nearness)
            cut += 1

            assert expected.symmetric_difference(found).area < 1e-3 * expected.length

    assert cut >= 3
