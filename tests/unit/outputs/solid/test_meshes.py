"""The skin of a part on a grid, and the edges one would draw on it."""

from generator.geometry.outlines import Outline, circle
from generator.geometry.rods import Rod
from generator.geometry.slabs import Slab
from generator.outputs.solid.meshes import COARSE_MM, make_mesh

BOARD = Outline(((0.0, 0.0), (300.0, 0.0), (300.0, 90.0), (0.0, 90.0)))


def test_a_board_has_eight_corners_twelve_edges_and_two_triangles_for_every_face() -> None:
    mesh = make_mesh(Slab(BOARD, BOARD, 18.0), COARSE_MM)

    assert (8, 12, 0, 12) == tuple(map(len, (mesh.points, mesh.edges, mesh.rounds, mesh.triangles)))
    assert {(0, 0, 0), (3000, 900, 180)} <= set(mesh.points)


def test_the_edge_of_a_hole_is_drawn_and_the_lines_along_its_wall_are_not() -> None:
    hole = circle((150.0, 45.0), 30.0)
    chords = len(hole.flattened())
    mesh = make_mesh(Slab(BOARD, BOARD, 18.0, holes=(hole,)), COARSE_MM)

    assert 12 + 2 * chords == len(mesh.edges)
    assert chords == len(mesh.rounds)


def test_a_rod_shows_its_two_ends_and_has_no_line_along_it() -> None:
    rod = Rod(400.0, 25.0)
    chords = len(rod.faces()) - 2
    mesh = make_mesh(rod, COARSE_MM)

    assert 2 * chords == len(mesh.edges)
    assert chords == len(mesh.rounds)
    assert all(mesh.points[a][0] == mesh.points[b][0] for a, b in mesh.edges)
    assert all(mesh.points[a][0] != mesh.points[b][0] for a, b in mesh.rounds)


def test_what_is_thinner_than_the_grid_is_left_out_and_all_indices_hold() -> None:
    mesh = make_mesh(Slab(BOARD, BOARD, 0.04), COARSE_MM)
    count = len(mesh.points)

    assert 4 == count
    assert all(len({*triangle}) == 3 for triangle in mesh.triangles)
    assert all(0 <= i < count for row in (*mesh.triangles, *mesh.edges) for i in row)
