"""Openings that trap: the limits of the published sources, and which gaps are openings at all.

Vectors for the head: CPSC Public Playground Safety Handbook (pub. 325), B.2.5.1, more than 3.5 in
and less than 9 in; for the finger: Caring for Our Children 6.2.1.9, more than 3/8 in and less
than 1 in.
"""

import pytest

from generator.problems import Problem
from tests.little_designs import codes, plan_problems

SLATS = """
children: CHILDREN
parts:
  rail:
    from: panel
    length: 1200 mm
    width: 80 mm
    corner: [0 mm, panel, 0 mm]
    runs: {length: right, width: up}
  top_rail:
    from: panel
    length: 1200 mm
    width: 80 mm
    corner: [0 mm, panel, 800 mm]
    runs: {length: right, width: up}
  slat:
    from: panel
    each: number in 1..2
    corner: [100 mm + (number - 1) * (100 mm + GAP), 0 mm, 0 mm]
    length: 880 mm
    width: 100 mm
    runs: {length: up, width: right}
  BACK
joints:
  - {join: "slat to rail, top_rail", with: glue}
steps: [{title: All, fit: "rail, top_rail, slat"}]
"""
BACK = """back:
    from: panel
    length: 1200 mm
    width: 880 mm
    corner: [0 mm, 2 * panel, 0 mm]
    runs: {length: right, width: up}"""


def slats(gap: str, *, children: bool = True, back: bool = False) -> tuple[Problem, ...]:
    """Return what is wrong with two slats on two rails, the rails 720 mm apart."""
    text = SLATS.replace("GAP", gap).replace("CHILDREN", "yes" if children else "no")
    if not back:
        return plan_problems(text.replace("  BACK\n", ""))
    text = text.replace("BACK", BACK).replace("top_rail, slat", "top_rail, slat, back")
    return plan_problems(text.replace('top_rail", with', 'top_rail, back", with').replace(
        "joints:", "joints:\n  - {join: back to rail, with: glue}").replace(
        'slat to rail, top_rail, back', 'slat to rail, top_rail'))  # fmt: skip


def hole(size: str) -> tuple[Problem, ...]:
    """Return what is wrong with a board that has one opening, with another glued under it."""
    return plan_problems(f"""
children: yes
parts:
  low: {{from: panel, length: 100 mm, width: 100 mm, runs: {{length: right, width: back}}}}
  high:
    from: panel
    length: 1000 mm
    width: 500 mm
    corner: [0 mm, 0 mm, panel]
    runs: {{length: right, width: back}}
    openings: [{{{size}, from left: 500 mm, from front: 250 mm}}]
joints: [{{join: low to high, with: glue}}]
steps: [{{title: All, fit: "low, high"}}]
""")


HEAD_VECTORS = [("3.5 in", []), ("3.51 in", ["C701"]), ("8.99 in", ["C701"]), ("9 in", [])]
FINGER_VECTORS = [
    ("0.375 in", []),
    ("0.38 in", ["C702"]),
    ("0.99 in", ["C702"]),
    ("1 in", []),
]


@pytest.mark.parametrize(("size", "expected"), HEAD_VECTORS + FINGER_VECTORS)
def test_a_hole_traps_only_between_the_published_limits(size: str, expected: list[str]) -> None:
    assert codes(hole(f"hole: {size}")) == expected


@pytest.mark.parametrize(("size", "expected"), HEAD_VECTORS + FINGER_VECTORS)
def test_a_gap_between_slats_traps_only_between_the_published_limits(
    size: str, expected: list[str]
) -> None:
    assert codes(slats(size)) == expected


def test_a_slot_is_judged_by_its_width() -> None:
    assert codes(hole("slot: [300 mm, 60 mm], along: right")) == []
    assert codes(hole("slot: [300 mm, 100 mm], along: right")) == ["C701"]


def test_nothing_traps_where_no_children_are() -> None:
    assert codes(slats("4 in", children=False)) == []


def test_a_gap_with_a_back_behind_it_is_no_opening() -> None:
    assert codes(slats("4 in")) == ["C701"]
    assert "C701" not in codes(slats("4 in", back=True))


def test_a_gap_is_told_with_its_width_and_both_limits() -> None:
    (found,) = slats("120 mm")

    assert found.what == (
        "the gap between `slat[1]` and `slat[2]` is 120 mm wide: "
        "between 88.9 mm and 228.6 mm it can trap a child's head"
    )


def test_a_gap_that_two_other_pieces_fill_is_no_opening() -> None:
    """They meet in its very middle, where neither is looked through; 32 mm are left on each side.

    The rails stand behind the slats, so that the space between the slats is open to the front.
    """
    posts = """post:
    from: panel
    each: number in 1..2
    corner: [250 mm - (2 - number) * panel, 0 mm, 0 mm]
    length: 880 mm
    width: panel
    runs: {length: up, width: back}
"""
    text = SLATS.replace("GAP", "100 mm").replace("CHILDREN", "yes").replace("  BACK\n", "  POSTS")
    text = text.replace("POSTS", posts)
    text = text.replace('"slat to rail', '"slat, post to rail').replace('slat"}]', 'slat, post"}]')

    assert codes(plan_problems(text)) == []
