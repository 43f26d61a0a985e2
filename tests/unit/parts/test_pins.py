"""Rows of pin holes: where each hole is, on which face, and which copies have the same."""

import pytest

from generator.model.parts import FACE_A, FACE_B, Part, PinHole
from tests.little_designs import HEAD, codes, part_named, parts_of, parts_problems

SIDE = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {{length: up, width: back}}
    pins:
      - {{hole: 5 mm, deep: 10 mm, pitch: 32 mm, in: {face}, along: up,
         from bottom: 100 mm, {more}}}
    at:
      left: {{}}
      right: {{{right}}}
"""
MIRRORED = "mirrors: left, across: {right: 300 mm}"
MOVED = "corner: [582 mm, 0 mm, 0 mm]"


def side(more: str, *, face: str = "inside", right: str = MIRRORED) -> Part:
    return part_named(parts_of(SIDE.format(face=face, more=more, right=right)), "side.left")


def heights(pins: tuple[PinHole, ...]) -> list[float]:
    return [round(pin.center[0], 6) for pin in pins]


def test_a_row_has_as_many_holes_as_fit_with_as_much_left_above_as_below() -> None:
    pins = side("from front: 50 mm").pieces[0].pins

    assert [100.0 + 32 * i for i in range(13)] == heights(pins)
    assert [50.0] * 13 == [pytest.approx(pin.center[1]) for pin in pins]
    assert {(5.0, 10.0)} == {(pin.diameter_mm, pin.depth_mm) for pin in pins}


def test_leave_says_how_much_stays_above_the_last_hole() -> None:
    assert len(side("from front: 50 mm, leave: 20 mm").pieces[0].pins) == 16
    assert len(side("from front: 50 mm, leave: 21 mm").pieces[0].pins) == 15


def test_a_count_says_how_many_holes_there_are() -> None:
    assert [100.0, 132.0, 164.0] == heights(side("from front: 50 mm, count: 3").pieces[0].pins)


def test_the_inside_of_either_side_looks_at_the_other() -> None:
    for right in (MIRRORED, MOVED):
        part = side("from front: 50 mm, count: 1", right=right)
        mouths = [
            piece.frame.direction((0.0, 0.0, -1.0 if piece.pins[0].side == FACE_A else 1.0))[0]
            for piece in part.pieces
        ]

        assert [1.0, -1.0] == [pytest.approx(x) for x in mouths]


def test_a_named_face_is_the_other_one_on_a_mirrored_copy() -> None:
    left, right = side("from front: 50 mm, count: 1", face="right").pieces
    words = [dict(piece.words)[piece.pins[0].side] for piece in (left, right)]

    assert ["right", "left"] == words


def test_copies_whose_rows_mirror_each_other_are_one_part_with_two_hands() -> None:
    left, right = side("from front: 50 mm, count: 2").pieces

    assert ("A", "A") == (left.label, right.label)
    assert {FACE_A, FACE_B} == {left.pins[0].side, right.pins[0].side}


def test_copies_whose_rows_are_in_the_middle_are_alike_when_turned() -> None:
    left, right = side("from front: 100 mm, count: 2").pieces

    assert left.pins == right.pins


def test_a_hole_as_far_from_the_edge_as_it_is_wide_is_near_enough() -> None:
    def problems(more: str) -> list[str]:
        return codes(parts_problems(SIDE.format(face="inside", more=more, right=MIRRORED)))

    assert problems("from front: 7.5 mm") == []
    assert problems("from front: 7.4 mm") == ["P111", "P111"]


@pytest.mark.parametrize(("deep", "said"), [("15 mm", []), ("15.1 mm", ["P111", "P111"])])
def test_three_millimetres_stay_behind_a_hole(deep: str, said: list[str]) -> None:
    text = SIDE.format(face="inside", more="from front: 50 mm", right=MIRRORED)

    assert said == codes(parts_problems(text.replace("deep: 10 mm", f"deep: {deep}")))


def test_handed_copies_lie_end_on_end_so_that_rows_are_bored_from_the_same_end() -> None:
    """Edging on the front forbids the half turn that would keep both ends and the show face."""
    text = SIDE.format(face="inside", more="from front: 50 mm, count: 2", right=MIRRORED)
    edged = text.replace("    pins:", "    show: outside\n    edging: {front: tape}\n    pins:")
    head = HEAD + "  tape: {imperial: veneer-tape-7/8, metric: veneer-tape-22}\n"
    part = part_named(parts_of(edged, head=head), "side.left")
    ends = [index for index, edge in enumerate(part.edges) if edge.kind == "end"]
    left, right = (dict(piece.words) for piece in part.pieces)

    assert [left[end] for end in ends] == [right[end] for end in ends]
