"""The checks of the whole: each with a design it refuses and a near miss it leaves alone."""

import pytest

from generator.build import build_plan
from generator.design.overrides import choose_size
from generator.problems import Problem
from tests.little_designs import (
    HEAD,
    catalogue_of,
    codes,
    plan_of,
    plan_problems,
    read_text,
    say,
)

TWO = """
{more}
parts:
  low: {{from: panel, length: 600 mm, width: 300 mm, runs: {{length: right, width: back}}}}
  high:
    from: panel
    length: 400 mm
    width: 300 mm
    corner: [{x} mm, 0 mm, {z}]
    runs: {{length: up, width: back}}
    edges: {{{edges}}}
joints:
  - {{join: low to high, with: {how}}}
steps:
  - {{title: All, fit: "low, high"}}
"""


def two(x: str = "200", z: str = "panel", edges: str = "", how: str = "face screws",
        more: str = "") -> str:  # fmt: skip
    return TWO.format(x=x, z=z, edges=edges, how=how, more=more)


def problems_of(text: str) -> tuple[Problem, ...]:
    return plan_problems(text)


def test_a_sound_design_has_no_problems() -> None:
    plan = plan_of(two())

    assert plan.problems == ()


def sunk_board(depth_mm: float) -> str:
    """Return a sound pair with a third board that stands some way deep in the low one."""
    third = f"""  third:
    from: panel
    length: 100 mm
    width: 300 mm
    corner: [400 mm, 0 mm, panel - {depth_mm} mm]
    runs: {{length: up, width: back}}
"""
    return two().replace("joints:", third + "joints:").replace("low, high", "low, high, third")


def test_pieces_in_one_place_are_reported_with_the_room_they_share() -> None:
    found = problems_of(sunk_board(8.0))

    assert codes(found) == ["C101", "C102"], say(found)
    assert found[0].what == "pieces `low` and `third` occupy the same space"
    assert found[0].notes[0].text == (
        "they share a room 18 mm wide, 300 mm deep and 8 mm high, in the metric edition"
    )


@pytest.mark.parametrize(("depth", "found"), [(0.04, ["C102"]), (0.06, ["C101", "C102"])])
def test_a_piece_half_a_paper_deep_in_another_only_touches_it(
    depth: float, found: list[str]
) -> None:
    assert codes(problems_of(sunk_board(depth))) == found


def test_large_leaning_boards_that_lie_on_each_other_only_touch() -> None:
    text = """
frames:
  all: {at: [5123 mm, 817 mm, 1000 mm], turn: [33 deg about right, 17 deg about back]}
parts:
  one: {from: panel, length: 2400 mm, width: 1200 mm, frame: all,
        runs: {length: right, width: back},
        openings: [{hole: 300 mm, from left: 400 mm, from front: 400 mm}]}
  two: {from: panel, length: 2400 mm, width: 1200 mm, frame: all, corner: [0 mm, 0 mm, panel],
        runs: {length: right, width: back}}
joints: [{join: one to two, with: glue}]
steps: [{title: All, fit: "one, two"}]
"""

    assert codes(problems_of(text)) == []


def test_a_piece_in_a_hole_of_another_is_not_in_its_way() -> None:
    text = """
parts:
  plate: {from: panel, length: 600 mm, width: 600 mm, runs: {length: right, width: back},
          openings: [{hole: 200 mm, from left: 300 mm, from front: 300 mm}]}
  post: {from: panel, length: 400 mm, width: SIZE mm, runs: {length: up, width: back},
         corner: [291 mm, 300 mm - SIZE mm / 2, -200 mm]}
steps: [{title: All, fit: "plate, post"}]
"""

    assert "C101" not in codes(problems_of(text.replace("SIZE", "190")))
    assert "C101" in codes(problems_of(text.replace("SIZE", "210")))


def test_a_piece_that_no_joint_names_is_held_by_nothing() -> None:
    third = "  third: {from: panel, length: 100 mm, width: 90 mm, corner: [0 mm, 900 mm, 0 mm], "
    third += "runs: {length: right, width: back}}\n"
    text = two().replace("joints:", third + "joints:").replace("low, high", "low, high, third")

    assert codes(problems_of(text)) == ["C102"]


@pytest.mark.parametrize(("angle", "found"), [("45 deg", []), ("46 deg", ["C103"])])
def test_a_bevel_is_no_steeper_than_the_saw_tilts(angle: str, found: list[str]) -> None:
    """The circular saw of shared/tools.yml tilts 45 degrees."""
    assert codes(problems_of(two(edges=f"top: bevel {angle} long on left"))) == found


def test_a_saw_that_does_not_tilt_cuts_no_bevel() -> None:
    head = HEAD.replace("title:", "saw: hand-saw\ntitle:")
    bevelled, square = two(edges="top: bevel 5 deg long on left"), two()

    assert codes(plan_problems(bevelled, head=head)) == ["C103"]
    assert codes(plan_problems(square, head=head)) == []


UNUSED = "parameters: {spare: 10 mm, x: 200 mm}"


def test_a_parameter_that_is_never_used_is_warned_of_and_forbids_the_plan() -> None:
    (problem,) = problems_of(two(more=UNUSED, x="x + 0"))

    assert (problem.code, problem.level) == ("D301", "warning")
    assert problem.what == "parameter `spare` is never used"


def test_a_plane_and_a_frame_are_used_by_edges_parts_and_other_frames() -> None:
    text = """
planes: {PLANE: {at: [0 mm, 300 mm, 0 mm], facing: back}}
frames:
  FRAME: {at: [0 mm, 0 mm, 0 mm]}
  inner: {in: outer, at: [0 mm, 0 mm, 0 mm]}
  outer: {at: [0 mm, 0 mm, 0 mm]}
parts:
  low: {from: panel, length: 600 mm, runs: {length: right, width: back}, frame: inner,
        edges: {front: against before, back: against rear}}
  high: {from: panel, length: 600 mm, width: 200 mm, runs: {length: right, width: back},
         corner: [0 mm, 0 mm, panel]}
joints: [{join: low to high, with: glue}]
steps: [{title: All, fit: "low, high"}]
"""
    planes = "planes: {before: {at: [0 mm, 0 mm, 0 mm], facing: front}, "
    used = text.replace("planes: {PLANE", planes + "rear")
    used = used.replace("  FRAME: {at: [0 mm, 0 mm, 0 mm]}\n", "")
    spare = planes + "spare: {at: [0 mm, 9 mm, 0 mm], facing: back}, rear"
    idle = text.replace("planes: {PLANE", spare)

    assert codes(problems_of(used)) == []
    assert codes(problems_of(idle.replace("FRAME", "lost"))) == ["D305", "D304"]


@pytest.mark.parametrize(
    "use",
    [
        "summary: 'With {spare}.'",
        "buy: [{item: felt, quantity: spare / 1 mm}]",
        "finish: 'Leave {spare} free.'",
    ],
)
def test_a_parameter_used_anywhere_is_used(use: str) -> None:
    assert codes(problems_of(two(more="parameters: {spare: 10 mm}\n" + use))) == []


def test_a_stock_that_no_part_is_made_from_is_warned_of() -> None:
    head = HEAD + "  spare: {imperial: plywood-15/32, metric: plywood-12}\n"

    assert codes(plan_problems(two(), head=head)) == ["D302"]
    assert codes(plan_problems(two(x="200 mm + 0 * spare / 1"), head=head)) != ["D302"]


def accepted(code: str, where: str) -> str:
    at = f"where: {where}, " if where else ""
    return two(
        more=f"parameters: {{spare: 10 mm}}\naccept: [{{code: {code}, {at}reason: kept for later}}]"
    )


def test_an_accepted_warning_is_printed_with_its_reason_and_forbids_nothing() -> None:
    (problem,) = plan_of(accepted("D301", "parameters.spare")).problems

    assert (problem.code, problem.accepted) == ("D301", "kept for later")


def test_an_acceptance_that_matches_nothing_is_itself_a_warning() -> None:
    assert codes(problems_of(accepted("D301", "parameters.other"))) == ["D301", "D303"]


def test_an_acceptance_without_a_place_accepts_the_code_everywhere() -> None:
    text = accepted("D301", "")

    assert codes(plan_of(text).problems) == ["D301"]


ACCEPTED = """
parameters: {spare: {imperial: 10 mm, metric: VALUE}, width: 600 mm}
sizes: {wide: {width: 900 mm}}
require: [{that: width > 0 mm, says: It has a width.}]
accept: [{code: D301, KEPT, reason: kept for later}]
"""


@pytest.mark.parametrize(
    ("kept", "metric", "imperial"),
    [
        ("edition: metric", [], ["D301"]),
        ("edition: imperial", ["D301"], []),
        ("when: width > 400 mm", [], []),
        ("when: width > 800 mm", ["D301"], ["D301"]),
        ("edition: metric, when: width > 800 mm", ["D301"], ["D301"]),
        ("when: width > 1 m", ["D301", "D303"], ["D301", "D303"]),
    ],
)
def test_a_warning_is_accepted_in_one_edition_or_at_some_sizes_alone(
    kept: str, metric: list[str], imperial: list[str]
) -> None:
    text = two(more=ACCEPTED.replace("VALUE", "10 mm").replace("KEPT", kept))

    assert [codes(plan_problems(text, system)) for system in ("metric", "imperial")] == [
        metric,
        imperial,
    ]


def test_an_acceptance_in_an_edition_that_warns_of_nothing_is_a_warning_there_alone() -> None:
    text = two(more="accept: [{code: D301, edition: metric, reason: kept for later}]")

    assert codes(plan_problems(text, "metric")) == ["D303"]
    assert codes(plan_problems(text, "imperial")) == []


@pytest.mark.parametrize(("limit", "found"), [("1 m", ["D306"]), ("800 mm", [])])
@pytest.mark.parametrize("size", ["", "wide"])
def test_a_part_is_warned_of_that_is_in_no_size(size: str, limit: str, found: list[str]) -> None:
    text = two(more="parameters: {width: 600 mm}\nsizes: {wide: {width: 900 mm}}").replace(
        "parts:\n",
        "parts:\n  lid: {from: panel, length: 90 mm, width: 90 mm, corner: [0 mm, 0 mm, 2 m], "
        f"runs: {{length: right, width: back}}, when: width > {limit}}}\n",
    )
    design = choose_size(read_text(text), size)
    problems = build_plan(design, catalogue_of(), "metric")[1]

    assert [code for code in codes(problems) if code == "D306"] == found


def test_an_error_cannot_be_accepted() -> None:
    text = two(edges="top: bevel 46 deg long on left",
               more="accept: [{code: C103, reason: my saw tilts further}]")  # fmt: skip

    assert codes(problems_of(text)) == ["D303", "C103"]


SEEN = """
parts:
  side: {from: panel, length: 600 mm, width: 300 mm, runs: {length: up, width: back}SHOW}
  shelf:
    from: panel
    length: 500 mm
    width: 300 mm
    corner: [18 mm, 0 mm, 200 mm]
    runs: {length: right, width: back}
    show: top
joints:
  - {join: JOIN}
steps:
  - {title: All, fit: "side, shelf"}
MORE
"""


def seen(join: str, show: str = "", more: str = "") -> str:
    word = f", show: {show}" if show else ""
    return SEEN.replace("JOIN", join).replace("SHOW", word).replace("MORE", more)


TOP_POCKETS = "shelf to side, with: pocket screws, pockets: top"
OUTSIDE_SCREWS = "side to shelf, with: face screws"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (seen(TOP_POCKETS), ["C301"]),
        (seen("shelf to side, with: pocket screws, pockets: bottom"), []),
        (seen(OUTSIDE_SCREWS, "left"), ["C301"]),
        (seen(OUTSIDE_SCREWS, "both"), ["C301"]),
        (seen(OUTSIDE_SCREWS, "right"), []),
        (seen(OUTSIDE_SCREWS), []),
    ],
)
def test_heads_are_seen_only_on_a_face_named_to_show(text: str, expected: list[str]) -> None:
    assert codes(problems_of(text)) == expected


@pytest.mark.parametrize("where", ["", 'where: "joints[1]", ', 'where: "joints[1].join", '])
def test_a_warning_is_accepted_at_its_key_or_one_that_holds_it(where: str) -> None:
    line = f"accept: [{{code: C301, {where}reason: it is a workshop}}]"
    plan = plan_of(seen(TOP_POCKETS, more=line))

    assert [problem.accepted for problem in plan.problems] == ["it is a workshop"]


def test_a_warning_accepted_elsewhere_is_told_with_the_idle_line() -> None:
    line = 'accept: [{code: C301, where: "joints[10]", reason: it is a workshop}]'

    assert codes(problems_of(seen(TOP_POCKETS, more=line))) == ["C301", "D303"]


def small(length: str, width: str, work: str) -> str:
    """Return a large board with a small one glued on, worked in some way."""
    return f"""
parts:
  large: {{from: panel, length: 600 mm, width: 300 mm, runs: {{length: right, width: back}}}}
  small:
    from: panel
    length: {length}
    width: {width}
    corner: [0 mm, 0 mm, panel]
    runs: {{length: right, width: back}}
    {work}
joints: [{{join: small to large, with: glue}}]
steps: [{{title: All, fit: "large, small"}}]
"""


BEVELLED = "edges: {back: bevel 30 deg long on top}"


@pytest.mark.parametrize(
    ("length", "width", "work", "expected"),
    [
        ("150 mm", "80 mm", BEVELLED, []),
        ("149 mm", "80 mm", BEVELLED, ["C201"]),
        ("400 mm", "30 mm", BEVELLED, ["C201"]),
        ("60 mm", "60 mm", "", []),
        ("60 mm", "60 mm", "corners: {back left: round 10 mm}", []),
        ("60 mm", "60 mm", "corners: {back left: clip 10 mm front by 10 mm right}", ["C201"]),
    ],
)
def test_only_what_is_sawn_loose_must_be_large_enough_to_hold(
    length: str, width: str, work: str, expected: list[str]
) -> None:
    assert codes(problems_of(small(length, width, work))) == expected


def test_a_board_too_small_to_hold_is_reported_with_a_way_to_keep_it_longer() -> None:
    (found,) = problems_of(small("100 mm", "80 mm", BEVELLED))

    assert found.what.startswith("`small` is sawn from a piece of only 100 mm × ")
    assert found.help == (
        "make it larger, or shape it at the end of a piece 200 mm long and cut it off last"
    )


LATH = """
parts:
  panel: {from: panel, length: 900 mm, width: 300 mm, runs: {length: right, width: back}}
  lath:
    from: board
    length: 800 mm
    WIDTH
    corner: [0 mm, 0 mm, panel]
    runs: {length: right, width: back}
joints: [{join: lath to panel, with: glue}]
steps: [{title: All, fit: "panel, lath"}]
"""


@pytest.mark.parametrize(
    ("board", "width", "expected"),
    [
        ("38x89", "width: 45 mm", ["C201"]),  # 45 mm on one side of the cut, 41 on the other
        ("38x140", "width: 45 mm", []),
        ("38x89", "", []),
        ("18x44", "", []),
    ],
)
def test_a_narrow_strip_is_ripped_from_a_board_that_carries_the_saw(
    board: str, width: str, expected: list[str]
) -> None:
    head = HEAD + f"  board: {{imperial: 2x4, metric: {board}}}\n"
    found = plan_problems(LATH.replace("WIDTH", width), head=head)

    assert codes(found) == expected, say(found)
    assert [problem.help for problem in found] == [
        "rip it from a wider board, or take a board that is as wide as it is" for _ in expected
    ]


ALIKE = """
parts:
  low: {from: panel, length: 600 mm, width: 300 mm, runs: {length: right, width: back}}
  high:
    from: panel
    length: 500 mm
    width: WIDTH
    corner: [50 mm, 0 mm, panel]
    runs: {length: right, width: back}
joints: [{join: high to low, with: glue}]
steps: [{title: All, fit: "low, high"}]
"""


@pytest.mark.parametrize(
    ("width", "expected"),
    [
        ("300 mm", []),
        ("300.4 mm", ["C202"]),
        ("299.6 mm", ["C202"]),
        ("300.6 mm", []),  # reads as 301: another mark
        ("299 mm", []),
    ],
)
def test_two_sizes_at_one_mark_of_the_tape_are_told_and_two_marks_are_not(
    width: str, expected: list[str]
) -> None:
    found = plan_problems(ALIKE.replace("WIDTH", width))

    assert codes(found) == expected, say(found)
    assert all("`high`" in problem.what and "`low`" in problem.what for problem in found)
