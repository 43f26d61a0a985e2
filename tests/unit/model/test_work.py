"""Which copies of a part are bored, marked and shown alike, and how many are left and right."""

import pytest

from generator.model.plan import Plan
from generator.model.work import find_work, format_hands
from tests.little_designs import part_named, plan_of

PAIR = """
parts:
  side:
    from: panel
    length: 600 mm
    width: 300 mm
    runs: {length: up, width: back}
    show: outside
    WORK
    at: {left: {}, right: {mirrors: left, across: {right: 300 mm}}}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, HIGH]
    width: DEEP
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints: [{join: shelf to side, with: pocket screws, pockets: bottom}]
steps: [{title: All, fit: "side, shelf"}]
"""
CLIP = "corners: {top front: clip 100 mm down by 50 mm back}"
BOARDS = """
parts:
  base: {from: panel, length: 900 mm, width: 900 mm, runs: {length: right, width: back}}
  board:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    corners: {back left: clip 90 mm right by 60 mm front}
    corner: [0 mm, 0 mm, panel]
    show: ONE
  other:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    corners: {back left: clip 90 mm right by 60 mm front}
    corner: [450 mm, 0 mm, panel]
    show: TWO
joints: [{join: "board, other to base", with: glue}]
steps: [{title: Boards, fit: "board, other"}, {title: Base, fit: base}]
"""


def pair(work: str = "", high: str = "200 mm", deep: str = "250 mm") -> Plan:
    return plan_of(PAIR.replace("WORK", work).replace("HIGH", high).replace("DEEP", deep))


def hands(plan: Plan, name: str) -> str:
    return format_hands(find_work(plan, part_named(plan.parts, name)))


@pytest.mark.parametrize("work", ["", CLIP])
def test_sides_marked_for_a_shelf_are_one_left_and_one_right(work: str) -> None:
    plan = pair(work)

    assert part_named(plan.parts, "side.left").count == 2
    assert hands(plan, "side.left") == "1 left, 1 right"


def test_sides_bored_for_dowels_are_one_left_and_one_right() -> None:
    text = PAIR.replace("with: pocket screws, pockets: bottom", "with: dowels")
    plan = plan_of(text.replace("WORK", "").replace("HIGH", "200 mm").replace("DEEP", "250 mm"))
    works = find_work(plan, part_named(plan.parts, "side.left"))

    assert [{"dowel"}, {"dowel"}] == [{hole.kind for hole in work.holes} for work in works]
    assert format_hands(works) == "1 left, 1 right"


def test_sides_marked_alike_whichever_way_they_are_turned_are_not_handed() -> None:
    """A shelf in the middle of the height and all across looks the same from both sides."""
    plan = pair(high="291 mm", deep="300 mm")

    assert hands(plan, "side.left") == ""


def test_a_part_made_once_is_not_handed() -> None:
    assert hands(pair(), "shelf") == ""


@pytest.mark.parametrize(
    ("one", "two", "expected"),
    [
        ("top", "top", ""),
        ("bottom", "bottom", ""),
        ("both", "both", ""),
        ("top", "bottom", "1 as drawn, 1 with the other face to show"),
        ("bottom", "top", "1 as drawn, 1 with the other face to show"),
    ],
)
def test_equal_boards_with_another_face_to_show_are_one_part_and_handed(
    one: str, two: str, expected: str
) -> None:
    plan = plan_of(BOARDS.replace("ONE", one).replace("TWO", two))
    part = part_named(plan.parts, "board")

    assert [piece.name for piece in part.pieces] == ["board", "other"]
    assert format_hands(find_work(plan, part)) == expected
