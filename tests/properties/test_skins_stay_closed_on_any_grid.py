"""A skin counted in steps of a grid is closed like the one it is made of, however coarse."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.geometry.rods import Body, Rod
from generator.outputs.solid.meshes import COARSE_MM, FINE_MM, PartMesh, make_mesh
from tests.published.test_solids_against_trimesh import slabs

GRIDS = st.sampled_from([FINE_MM, COARSE_MM, 3.0])


def open_sides(mesh: PartMesh) -> Counter[tuple[int, int]]:
    """Return the sides of triangles that no triangle beside them runs along the other way."""
    sides: Counter[tuple[int, int]] = Counter()
    for a, b, c in mesh.triangles:
        for one, other in ((a, b), (b, c), (c, a)):
            sides[one, other] += 1
            sides[other, one] -= 1
    return Counter({side: count for side, count in sides.items() if count})


def volume_mm3(mesh: PartMesh) -> float:
    """Return the sum of the tetrahedra between the zero point and all triangles."""
    total = 0
    for triangle in mesh.triangles:
        (ax, ay, az), (bx, by, bz), (cx, cy, cz) = (mesh.points[i] for i in triangle)
        total += ax * (by * cz - bz * cy) - ay * (bx * cz - bz * cx) + az * (bx * cy - by * cx)
    return total / 6 * mesh.grid_mm**3


@settings(max_examples=60, deadline=None)
@given(slabs(), GRIDS)
def test_a_slab_with_any_work_is_closed(slab: Body, grid_mm: float) -> None:
    mesh = make_mesh(slab, grid_mm)

    assert open_sides(mesh) == {}
    if grid_mm <= COARSE_MM:
        assert slab.volume_mm3 == pytest.approx(volume_mm3(mesh), rel=0.02)


@settings(max_examples=20, deadline=None)
@given(st.integers(5, 80), st.integers(50, 2000), GRIDS)
def test_a_rod_is_closed(diameter: int, length: int, grid_mm: float) -> None:
    assert open_sides(make_mesh(Rod(float(length), float(diameter)), grid_mm)) == {}


def test_an_open_skin_is_noticed() -> None:
    mesh = make_mesh(Rod(300.0, 25.0), COARSE_MM)
    gone = PartMesh(mesh.grid_mm, mesh.points, mesh.triangles[1:], mesh.edges, mesh.rounds)

    assert len(open_sides(gone)) > 0
