"""A free outline and its pin holes are the same wherever they stand, and mirror exactly."""

from hypothesis import given

from generator.geometry.frames import Plane, reflect_point
from generator.geometry.vectors import Vec3
from generator.model.parts import FACE_A, Part, Piece
from tests.little_designs import parts_of, piece_named
from tests.properties.same_wood import compare_part
from tests.properties.strategies import SINGLE_PARTS, Shape, places, shapes, turns

ACROSS = Plane((1.0, 0.0, 0.0), 400.0)


def text_of(shape: Shape, frame: str = "at: [0 mm, 0 mm, 0 mm]") -> str:
    return f"""
parts:
  board:
    from: panel
    frame: {{{frame}}}
    runs: {{length: up, width: back}}
    {shape.work()}
    at:
      left: {{corner: [50 mm, 10 mm, 20 mm]}}
      right: {{mirrors: left, across: {{right: 400 mm}}}}
"""


def points_of(part: Part, piece: Piece) -> list[Vec3]:
    """Return the corners of both faces and the mouths of the pin holes in the room."""
    t = part.thickness_mm
    local = [(x, y, z) for x, y in part.slab.face_a.points for z in (0.0, t)]
    local += [(*pin.center, 0.0 if pin.side == FACE_A else t) for pin in piece.pins]
    return [piece.frame.to_world(point) for point in local]


def rounded(points: list[Vec3]) -> list[tuple[float, ...]]:
    return sorted(tuple(round(value, 3) + 0.0 for value in point) for point in points)


@SINGLE_PARTS
@given(shapes())
def test_a_mirrored_copy_has_its_points_and_its_pin_holes_where_a_mirror_shows_them(
    shape: Shape,
) -> None:
    parts = parts_of(text_of(shape))
    left = points_of(*piece_named(parts, "board.left"))
    right = points_of(*piece_named(parts, "board.right"))

    assert rounded([reflect_point(point, ACROSS) for point in left]) == rounded(right)


@SINGLE_PARTS
@given(shapes())
def test_a_free_outline_and_its_mirror_image_are_one_part_that_is_turned_over(
    shape: Shape,
) -> None:
    parts = parts_of(text_of(shape))

    assert 1 == len(parts.parts)
    assert parts.parts[0].count == 2


@SINGLE_PARTS
@given(shapes(), places(), turns())
def test_a_free_outline_that_is_moved_and_turned_is_the_same_part(
    shape: Shape, at: tuple[int, int, int], turned: tuple[str, ...]
) -> None:
    frame = f"at: [{at[0]} mm, {at[1]} mm, {at[2]} mm], turn: [{', '.join(turned)}]"
    one, other = parts_of(text_of(shape)), parts_of(text_of(shape, frame))

    compare_part(one.parts[0], other.parts[0])
    assert [pin for piece in one.pieces() for pin in piece.pins] == [
        pin for piece in other.pieces() for pin in piece.pins
    ]
