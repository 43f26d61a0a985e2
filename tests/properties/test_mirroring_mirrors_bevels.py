"""A mirrored copy is the mirror image: equal sizes, tilts kept, faces and words changed over."""

from collections.abc import Callable

from hypothesis import given

from generator.geometry.frames import Plane, reflect_point
from generator.geometry.vectors import Vec3
from generator.model.parts import Part, Piece
from tests.little_designs import parts_of, piece_named
from tests.properties.strategies import SINGLE_PARTS, Panel, panels

ACROSS = Plane((1.0, 0.0, 0.0), 400.0)
OTHER = {"left": "right", "right": "left"}


def text_of(panel: Panel) -> str:
    return f"""
parts:
  board:
    from: panel
    length: {panel.length} mm
    width: {panel.width} mm
    runs: {{length: up, width: back}}
    {panel.work()}
    at:
      left: {{corner: [50 mm, 10 mm, 20 mm]}}
      right: {{mirrors: left, across: {{right: 400 mm}}}}
"""


@SINGLE_PARTS
@given(panels())
def test_a_mirrored_copy_has_its_corners_where_a_mirror_shows_them(panel: Panel) -> None:
    parts = parts_of(text_of(panel))
    left = corners_of(*piece_named(parts, "board.left"))
    right = corners_of(*piece_named(parts, "board.right"))

    assert sorted(rounded(reflect_point(point, ACROSS)) for point in left) == sorted(
        rounded(point) for point in right
    )


@SINGLE_PARTS
@given(panels())
def test_a_mirrored_copy_has_the_same_tilts_with_the_long_points_changed_over(
    panel: Panel,
) -> None:
    parts = parts_of(text_of(panel))
    left = bevels_of(*piece_named(parts, "board.left"))
    right = bevels_of(*piece_named(parts, "board.right"))

    assert left == {name: (tilt, OTHER.get(face, "")) for name, (tilt, face) in right.items()}


@SINGLE_PARTS
@given(panels())
def test_a_panel_and_its_mirror_image_are_one_part_only_if_a_turn_makes_them_alike(
    panel: Panel,
) -> None:
    """Tried on the solids themselves: turned all four ways, does one fill the other's room?"""
    parts = parts_of(text_of(panel))
    part, _ = piece_named(parts, "board.left")
    other, _ = piece_named(parts, "board.right")
    alike = any(solid_key(part, way) == solid_key(other, 0) for way in range(4))

    assert alike == (part is other)


def corners_of(part: Part, piece: Piece) -> list[Vec3]:
    slab = part.slab
    flat = [(x, y, 0.0) for x, y in slab.face_a.points]
    flat += [(x, y, slab.thickness_mm) for x, y in slab.face_b.points]
    return [piece.frame.to_world(point) for point in flat]


def rounded(point: Vec3) -> tuple[float, ...]:
    return tuple(round(value, 4) + 0.0 for value in point)


def bevels_of(part: Part, piece: Piece) -> dict[str, tuple[float, str]]:
    """Return the tilt of every edge by the piece's own word for it, and its own long face."""
    words = dict(piece.words)
    return {
        words[index]: (
            round(edge.tilt_deg, 6),
            "" if not edge.long_face else words[-1 if edge.long_face == "A" else -2],
        )
        for index, edge in enumerate(part.edges)
        if edge.kind != "corner"
    }


def solid_key(part: Part, way: int) -> list[tuple[float, ...]]:
    """Return the corners of both faces and of the holes after one of the four proper turns."""
    length, width, t = part.length_mm, part.width_mm, part.thickness_mm
    ways: tuple[Callable[[float, float, float], Vec3], ...] = (
        lambda x, y, z: (x, y, z),
        lambda x, y, z: (length - x, width - y, z),
        lambda x, y, z: (x, width - y, t - z),
        lambda x, y, z: (length - x, y, t - z),
    )
    turned = ways[way]
    points = [turned(x, y, 0.0) for x, y in part.slab.face_a.points]
    points += [turned(x, y, t) for x, y in part.slab.face_b.points]
    holes = [turned(*opening.center, t / 2) for opening in part.openings]
    return sorted(tuple(round(v, 2) + 0.0 for v in point) for point in (*points, *holes))
