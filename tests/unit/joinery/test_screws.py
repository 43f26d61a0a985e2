"""How many screws a joint gets, where they stand, which ones they are.

Spacings, end distances and lengths are common practice, no source; see generator/joinery/rules.py.
"""

from itertools import pairwise

import pytest

from generator.geometry.vectors import dot
from generator.model.fixings import Screw
from generator.model.joinery import Fastener, Joinery
from generator.units import System
from tests.little_designs import codes, joinery_of, joinery_problems, plan_of, say

TEE = """
parts:
  base:
    from: panel
    length: 900 mm
    width: {wide} mm
    runs: {{length: right, width: back}}
  post:
    from: panel
    length: 300 mm
    width: {wide} mm
    corner: [300 mm, 0 mm, panel]
    runs: {{length: up, width: back}}
joints:
  - {{join: {join}, {how}}}
"""


def face(wide: float = 400.0, how: str = "") -> str:
    return TEE.format(wide=wide, join="base to post", how=f"with: face screws, {how}".strip(", "))


def pocket(wide: float = 400.0, how: str = "", side: str = "left") -> str:
    how = f"with: pocket screws, pockets: {side}, {how}".strip(", ")
    return TEE.format(wide=wide, join="post to base", how=how)


def spots(text: str, system: System = "metric") -> list[float]:
    return sorted(screw.head[1] for screw in joinery_of(text, system).fasteners)


@pytest.mark.parametrize("text", [face(), pocket()])
def test_the_first_and_last_screw_stand_38_mm_from_the_ends(text: str) -> None:
    found = spots(text)

    assert found[0] == pytest.approx(38.0)
    assert found[-1] == pytest.approx(400.0 - 38.0)


@pytest.mark.parametrize(("wide", "count"), [(276.0, 2), (277.0, 3), (476.0, 3), (477.0, 4)])
def test_screws_stand_at_most_200_mm_apart(wide: float, count: int) -> None:
    found = spots(face(wide))

    assert len(found) == count
    assert max(b - a for a, b in pairwise(found)) <= 200.0 + 1e-9


def test_screws_of_a_contact_are_evenly_spaced() -> None:
    found = spots(face(700.0))
    gaps = [b - a for a, b in pairwise(found)]

    assert gaps == pytest.approx([gaps[0]] * len(gaps))


@pytest.mark.parametrize(("wide", "count"), [(49.0, 1), (51.0, 2)])
def test_a_contact_of_more_than_50_mm_gets_two_screws(wide: float, count: int) -> None:
    assert len(spots(face(wide))) == count


def test_a_count_is_a_count() -> None:
    assert spots(face(how="count: 5")) == pytest.approx([38.0, 119.0, 200.0, 281.0, 362.0])


def test_one_screw_stands_in_the_middle() -> None:
    assert spots(face(how="count: 1")) == pytest.approx([200.0])


def test_ends_and_spacing_are_as_the_maker_says() -> None:
    assert spots(face(how="ends: 50 mm, spacing: 100 mm")) == pytest.approx([50, 150, 250, 350])


def test_a_face_screw_stands_square_on_the_face_in_the_middle_of_the_edge() -> None:
    (screw, *_) = joinery_of(face()).fasteners

    assert screw.direction == pytest.approx((0.0, 0.0, 1.0))
    assert screw.head[0] == pytest.approx(309.0)
    assert screw.head[2] == pytest.approx(0.0)


def test_a_pocket_screw_leans_15_degrees_away_from_the_face_it_is_bored_in() -> None:
    (screw, *_) = joinery_of(pocket(side="left")).fasteners

    assert screw.direction == pytest.approx((0.25881904510252074, 0.0, -0.9659258262890683))


def test_a_pocket_screw_crosses_the_joint_in_the_middle_of_the_thickness() -> None:
    (screw, *_) = joinery_of(pocket()).fasteners
    down = (18.0 - screw.head[2]) / screw.direction[2]

    assert screw.head[0] + down * screw.direction[0] == pytest.approx(309.0)


@pytest.mark.parametrize("text", [face(), pocket(), face(120.0), pocket(120.0)])
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_a_screw_is_as_long_as_from_head_to_tip_and_of_the_edition(
    text: str, system: System
) -> None:
    for screw in joinery_of(text, system).fasteners:
        reach = sum((a - b) ** 2 for a, b in zip(screw.head, screw.tip, strict=True)) ** 0.5

        assert reach == pytest.approx(screw.goods.length_mm)
        assert screw.goods.system == system


@pytest.mark.parametrize(
    ("text", "key"), [(pocket(), "pocket-4.2x32"), (face(), "wood-4x45")], ids=["pocket", "face"]
)
def test_18_mm_boards_get_the_usual_screws(text: str, key: str) -> None:
    assert {screw.goods.key for screw in joinery_of(text).fasteners} == {key}


def test_the_screw_the_maker_names_is_used() -> None:
    text = face(how="screw: wood-5x60")

    assert {screw.goods.key for screw in joinery_of(text).fasteners} == {"wood-5x60"}


@pytest.mark.parametrize("thickness", [12.0, 15.0, 18.0, 19.0, 25.0])
@pytest.mark.parametrize("text", [pocket(), face()], ids=["pocket", "face"])
@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_boards_of_every_usual_thickness_can_be_joined_to_their_like(
    text: str, thickness: float, system: System
) -> None:
    assert not joinery_problems(text, system, thickness)


def test_a_pocket_screw_bores_one_hole_and_a_face_screw_two() -> None:
    assert [hole.kind for hole in joinery_of(pocket(how="count: 1")).holes] == ["pocket"]
    assert [hole.kind for hole in joinery_of(face(how="count: 1")).holes] == ["clearance", "pilot"]


def test_holes_lie_on_the_axis_of_their_screw() -> None:
    joinery = joinery_of(face(how="count: 1"))
    clearance, pilot = joinery.holes
    (screw,) = joinery.fasteners

    assert clearance.piece == "base"
    assert clearance.at == pytest.approx((309.0, 200.0, 0.0))
    assert clearance.depth_mm is None
    assert isinstance(screw.goods, Screw)
    assert clearance.countersink_mm == screw.goods.head_mm
    assert pilot.piece == "post"
    assert pilot.depth_mm == pytest.approx(screw.goods.length_mm - 18.0)
    assert pilot.at[0] == pytest.approx(0.0)


def test_screws_are_numbered_through_the_joints() -> None:
    joinery = joinery_of(face())

    assert [s.id for s in joinery.fasteners] == [f"S{i + 1}" for i in range(3)]
    assert joinery.joints[0].fasteners == ("S1", "S2", "S3")


def test_glue_alone_gets_no_screws() -> None:
    joint = joinery_of(TEE.format(wide=400, join="post to base", how="with: glue")).joints[0]

    assert joint.glue
    assert joint.fasteners == ()
    assert joint.between == (("post", "base"),)


SHELVES = """
parts:
  side:
    from: panel
    length: 900 mm
    width: 300 mm
    runs: {length: up, width: back}
    show: outside
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  shelf:
    from: panel
    each: number in 1..2
    width: 300 mm
    corner: [0 mm, 0 mm, number * 300 mm]
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
    show: SHOWN
joints:
  - {join: shelf to side, with: pocket screws, pockets: POCKETS, count: 2}
"""


def shelves(show: str, pockets: str) -> Joinery:
    return joinery_of(SHELVES.replace("SHOWN", show).replace("POCKETS", pockets))


def test_a_joint_of_many_pieces_joins_every_pair_that_touches() -> None:
    (joint,) = shelves("top", "bottom").joints

    assert joint.between == (
        ("shelf[1]", "side.left"),
        ("shelf[1]", "side.right"),
        ("shelf[2]", "side.left"),
        ("shelf[2]", "side.right"),
    )
    assert len(joint.fasteners) == 8


def test_a_screw_passes_the_first_piece_and_then_the_second() -> None:
    (first, *_) = shelves("top", "bottom").fasteners

    assert first.through == ("shelf[1]", "side.left")


@pytest.mark.parametrize(
    ("show", "pockets", "hidden"),
    [
        ("top", "bottom", True),
        ("top", "top", False),
        ("both", "top", False),
        ("both", "bottom", True),
    ],
    ids=["not shown", "shown", "both shown", "both shown but looking down"],
)
def test_a_screw_is_hidden_on_a_face_nobody_looks_at(show: str, pockets: str, hidden: bool) -> None:
    assert {screw.hidden for screw in shelves(show, pockets).fasteners} == {hidden}


def test_a_screw_under_a_later_piece_is_hidden() -> None:
    text = """
parts:
  base: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  post:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [300 mm, 0 mm, -400 mm]
    runs: {length: up, width: back}
  COVER
joints:
  - {join: base to post, with: face screws}
"""
    cover = """cover:
    from: panel
    length: 600 mm
    width: 300 mm
    corner: [0 mm, 0 mm, panel]
    runs: {length: right, width: back}
"""
    seen, covered = (joinery_of(text.replace("COVER", more)) for more in ("", cover))

    assert {screw.hidden for screw in seen.fasteners} == {False}
    assert {screw.hidden for screw in covered.fasteners} == {True}


def test_pieces_that_do_not_touch_are_not_joined() -> None:
    text = face().replace("300 mm, 0 mm, panel", "300 mm, 0 mm, panel + 1 mm")

    assert codes(joinery_problems(text)) == ["J101"]


def test_an_unknown_pocket_face_is_refused_with_the_faces_there_are() -> None:
    (problem,) = joinery_problems(pocket(side="front"))

    assert problem.code == "J109"
    assert problem.help == "its faces are left and right"


def test_a_pocket_screw_cannot_start_in_a_face_nor_a_face_screw_in_an_edge() -> None:
    wrong = pocket().replace("post to base", "base to post")
    other = face().replace("base to post", "post to base")

    assert codes(joinery_problems(wrong)) == ["J109"]
    assert codes(joinery_problems(other)) == ["J109"]


def test_no_pocket_screw_suits_a_board_of_60_mm() -> None:
    assert codes(joinery_problems(pocket(), thickness_mm=60.0)) == ["J102"]


def test_a_screw_that_would_break_through_is_reported_with_the_next_shorter_length() -> None:
    """Two boards of 18 mm lying on each other: a 35 mm screw leaves 1 mm, a 30 mm screw 6 mm."""
    (problem,) = joinery_problems(flat("wood-4x35"))

    assert problem.code == "J103", say([problem])
    assert problem.what == (
        "screw 1 of joint `low to high` comes within 1 mm of the far face of `high`; 3 mm is needed"
    )
    assert problem.help == (
        "the next shorter screw in shared/screws.yml is `wood-4x30`, which leaves 6 mm"
    )


def test_a_screw_with_3_mm_of_wood_before_its_point_is_driven() -> None:
    assert not joinery_problems(flat("wood-4x30"), thickness_mm=16.5)


def flat(screw: str) -> str:
    return f"""
parts:
  low: {{from: panel, length: 600 mm, width: 300 mm, runs: {{length: right, width: back}}}}
  high:
    from: panel
    length: 600 mm
    width: 300 mm
    corner: [0 mm, 0 mm, panel]
    runs: {{length: right, width: back}}
joints:
  - {{join: low to high, with: face screws, screw: {screw}, ends: 60 mm}}
"""


def test_a_screw_that_holds_by_too_little_is_reported_with_the_next_longer_length() -> None:
    (problem,) = joinery_problems(face(how="screw: wood-4x30"))

    assert problem.code == "J107"
    assert problem.help == "the next longer screw in shared/screws.yml is `wood-4x35`"


def test_a_screw_near_the_edge_of_the_second_board_breaks_out_beside_it() -> None:
    """The post stands 6 mm over the end of the base: its middle is 3 mm from the end's face."""
    over = pocket().replace("corner: [300 mm", "corner: [888 mm")

    assert codes(joinery_problems(over)) == ["J103"]


@pytest.mark.parametrize(("x", "found"), [(882.5, []), (883.5, ["J103"])])
def test_a_screw_keeps_1_5_mm_of_wood_beside_its_shank(x: float, found: list[str]) -> None:
    """The tip drifts 17 sin 15 = 4.4 mm towards the end at 900, the shank is 2.1 mm thick."""
    text = pocket().replace("corner: [300 mm", f"corner: [{x} mm")

    assert codes(joinery_problems(text)) == found


@pytest.mark.parametrize(("thickness", "found"), [(17.90, ["J103"]), (17.94, [])])
def test_cover_before_a_pocket_screw_is_measured_square_to_the_far_face(
    thickness: float, found: list[str]
) -> None:
    """A 32 mm screw stands (32 - 15) cos 15 = 16.42 mm deep and needs 1.5 mm more."""
    text = pocket(how="screw: pocket-4.2x32")

    assert codes(joinery_problems(text, thickness_mm=thickness)) == found


def test_a_screw_that_misses_the_second_board_is_reported() -> None:
    over = pocket().replace("corner: [300 mm", "corner: [{x} mm")

    assert codes(joinery_problems(over.replace("{x}", "894"))) != []
    assert codes(joinery_problems(over.replace("{x}", "870"))) == []


def test_a_screw_through_a_hole_of_the_first_board_is_reported() -> None:
    text = face(how="count: 1").replace(
        "  post:", "    openings: [{hole: 12 mm, from left: AT mm, from front: 200 mm}]\n  post:"
    )

    assert codes(joinery_problems(text.replace("AT", "309"))) == ["J104"]
    assert codes(joinery_problems(text.replace("AT", "400"))) == []


@pytest.mark.parametrize(("wide", "found"), [(23.0, ["J106"]), (25.0, [])])
def test_a_contact_too_short_for_any_screw_is_reported(wide: float, found: list[str]) -> None:
    assert codes(joinery_problems(face(wide))) == found


@pytest.mark.parametrize(("ends", "found"), [("11 mm", ["J105"]), ("12 mm", [])])
def test_a_screw_nearer_than_12_mm_to_the_end_is_reported(ends: str, found: list[str]) -> None:
    assert codes(joinery_problems(face(how=f"count: 2, ends: {ends}"))) == found


@pytest.mark.parametrize(("count", "found"), [(15, ["J105"]), (13, [])])
def test_screws_nearer_than_25_mm_to_each_other_are_reported(count: int, found: list[str]) -> None:
    assert codes(joinery_problems(face(how=f"count: {count}"))) == found


CROSS = """
parts:
  base: {{from: panel, length: 600 mm, width: 300 mm, runs: {{length: right, width: back}}}}
  low:
    from: panel
    length: 200 mm
    width: 300 mm
    corner: [300 mm, 0 mm, -200 mm]
    runs: {{length: up, width: back}}
  high:
    from: panel
    length: 200 mm
    width: 300 mm
    corner: [300 mm, 0 mm, panel]
    runs: {{length: up, width: back}}
joints:
  - {{join: low to base, with: pocket screws, pockets: left, ends: 40 mm, count: 2}}
  - {{join: high to base, with: pocket screws, pockets: {side}, ends: {ends} mm, count: 2}}
"""


@pytest.mark.parametrize(("ends", "found"), [(40, 1), (44, 1), (70, 0)])
def test_screws_that_run_into_each_other_are_reported(ends: int, found: int) -> None:
    """Both reach 16 mm into the base from opposite sides of the same 18 mm."""
    problems = joinery_problems(CROSS.format(side="left", ends=ends))

    assert codes(problems) == ["J108"] * found


def test_a_crossing_is_told_once_by_the_numbers_within_the_joints() -> None:
    (problem,) = joinery_problems(CROSS.format(side="left", ends=40))

    assert problem.what == (
        "screw 1 of joint `high to base` runs into the path of screw 1 of joint `low to base`"
    )


def test_a_hole_across_the_joint_leaves_two_patches_with_screws_in_both() -> None:
    text = face().replace(
        "  post:", "    openings: [{hole: 60 mm, from left: 309 mm, from front: 200 mm}]\n  post:"
    )
    found = spots(text)

    assert found == pytest.approx([38.0, 132.0, 268.0, 362.0], abs=1.0)
    assert joinery_of(text).joints[0].between == (("base", "post"),)


def test_every_screw_starts_in_its_first_and_ends_in_its_second_piece() -> None:
    for screw in shelves("top", "bottom").fasteners:
        assert _depth(screw) > 9.0


def _depth(screw: Fastener) -> float:
    """Return how far the tip is past the inner face of the side at x = 18 or 582."""
    inward = (-1.0, 0.0, 0.0) if screw.direction[0] < 0 else (1.0, 0.0, 0.0)
    joint = -18.0 if screw.direction[0] < 0 else 582.0
    return dot(inward, screw.tip) - joint


@pytest.mark.parametrize(
    ("stock", "key"),
    [
        ("plywood-18", "pocket-4.2x32"),
        ("mdf-18", "pocket-4.2x32"),
        ("18x94", "pocket-4.2x32"),
        ("oak-20x95", "pocket-3.8-finex32"),
    ],
)
def test_the_thread_of_pocket_screws_is_fine_in_hardwood_and_coarse_elsewhere(
    stock: str, key: str
) -> None:
    """Common practice, no source."""
    head = f"title: T\ndate: 2026-11-26\nstock:\n  panel: {{imperial: 1x4, metric: {stock}}}\n"
    steps = "steps:\n  - {title: All, fit: 'base, post'}\n"
    plan = plan_of(pocket(90.0, "count: 1") + steps, head=head)

    assert {screw.goods.key for screw in plan.joinery.fasteners} == {key}
