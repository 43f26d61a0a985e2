"""Nails and screws that start square in a face and cross a mitre, as box makers drive them.

Common practice, no source; 2.5 shank diameters from the edge: NDS commentary, from memory.
"""

import math

import pytest

from generator.model.joinery import BoredHole
from tests.little_designs import codes, joinery_of, joinery_problems, parts_of, say

CORNER = """
parts:
  front:
    from: panel
    length: 500 mm
    width: 150 mm
    runs: {length: right, width: up}
    edges: {right: mitre with side}
  side:
    from: panel
    corner: [500 mm - panel, 0 mm, 0 mm]
    length: 300 mm
    width: 150 mm
    runs: {length: back, width: up}
    edges: {front: mitre with front}
joints:
  - {join: front to side, with: %s%s}
"""


def corner(with_: str, how: str = "") -> str:
    return CORNER % (with_, how)


def holes_of(text: str, thickness: float = 18.0) -> list[tuple[BoredHole, BoredHole]]:
    joinery = joinery_of(text, thickness_mm=thickness)
    pairs = [[h for h in joinery.holes if h.fastener == one.id] for one in joinery.fasteners]
    return [(first, second) for first, second in pairs]


@pytest.mark.parametrize(
    ("with_", "thickness"),
    [
        ("nails", 12.0),
        ("nails", 18.0),
        ("nails", 38.0),
        ("face screws", 18.0),
        ("face screws", 38.0),
    ],
)
def test_it_starts_square_in_the_outer_face_and_meets_the_middle_of_the_mate(
    with_: str, thickness: float
) -> None:
    joinery = joinery_of(corner(with_), thickness_mm=thickness)

    assert joinery.fasteners
    for one in joinery.fasteners:
        assert one.direction == pytest.approx((0.0, 1.0, 0.0))
        assert one.head[:2] == pytest.approx((500.0 - thickness / 2, 0.0))
        assert one.tip[:2] == pytest.approx((500.0 - thickness / 2, one.goods.length_mm))


def test_both_pieces_get_their_hole_where_the_nail_passes() -> None:
    """Half the thickness of wood under the head, the rest of the nail in the mate."""
    parts = parts_of(corner("nails"))
    frames = {piece.name: piece.frame for piece in parts.pieces()}
    joinery = joinery_of(corner("nails"))

    for one, (first, second) in zip(joinery.fasteners, holes_of(corner("nails")), strict=True):
        assert (first.piece, first.kind) == ("front", "nail")
        assert (second.piece, second.kind) == ("side", "pilot")
        assert frames["front"].to_world(first.at) == pytest.approx(one.head)
        assert frames["side"].to_world(second.at)[1] == pytest.approx(9.0)
        assert second.depth_mm == pytest.approx(one.goods.length_mm - 9.0)


def test_a_screw_too_near_the_mitres_edge_is_refused_with_the_figures() -> None:
    found = joinery_problems(corner("face screws"), thickness_mm=12.0)

    assert codes(found) == ["J109"]
    assert "4.3 mm of wood under its head and 6 mm beside it; 5 mm and 8.8 mm" in say(found)


def test_pocket_screws_do_not_cross_a_mitre() -> None:
    found = joinery_problems(corner("pocket screws", ", pockets: back"))

    assert codes(found) == ["J109"]
    assert "at a mitre, where pocket screws have too little wood" in say(found)


def test_bolts_do_not_cross_a_mitre() -> None:
    assert codes(joinery_problems(corner("bolts"))) == ["J109"]


@pytest.mark.parametrize(
    ("sides", "found"), [(3, []), (4, []), (5, []), (6, []), (8, ["J103"]), (18, ["J109"])]
)
def test_a_bevel_is_crossed_where_it_leans_at_least_14_degrees(
    sides: int, found: list[str]
) -> None:
    """The bevels of N staves lean 180 / N degrees from square: 10 where there are eighteen.

    Through eight staves of 18 mm a nail would come out of the second before it holds.
    """
    assert codes(joinery_problems(two_staves(sides))) == found


@pytest.mark.parametrize("sides", [4, 5, 6])
def test_a_nail_across_many_sides_stands_square_on_its_first_face(sides: int) -> None:
    frames = {piece.name: piece.frame for piece in parts_of(two_staves(sides)).pieces()}
    joinery = joinery_of(two_staves(sides))

    assert joinery.fasteners
    for one in joinery.fasteners:
        assert frames["near"].local_direction(one.direction) == pytest.approx((0.0, 0.0, 1.0))
        depth = one.goods.length_mm - 9.0
        assert depth > 0.45 * one.goods.length_mm


def two_staves(sides: int) -> str:
    """Return two of so many staves that stand in a ring and meet at mitres."""
    turn, half = 360.0 / sides, math.tan(math.pi / sides) * 400.0
    shape = f"""
    from: panel
    length: 300 mm
    width: {2 * half:.9f} mm
    corner: [{-half:.9f} mm, -400 mm, 0 mm]
    runs: {{length: up, width: right}}"""
    return f"""
parts:
  near:{shape}
    edges: {{right: mitre with far}}
  far:{shape}
    frame: {{at: [0 mm, 0 mm, 0 mm], turn: {turn:.9f} deg about up}}
    edges: {{left: mitre with near}}
joints:
  - {{join: near to far, with: nails}}
"""
