"""What is there only sometimes: parts, joints, steps, openings, things to buy; and conditions."""

import pytest

from tests.little_designs import (
    assembly_of,
    codes,
    edition_of,
    edition_problems,
    joinery_of,
    plan_of,
)

BOX = """
parameters: {{width: {width}, depth: 200 mm}}
parts:
  side:
    {{from: panel, length: 400 mm, width: depth, runs: {{length: up, width: back}},
     at: {{left: {{}}, right: {{corner: [width - panel; 0 mm; 0 mm]}}}}}}
  shelf:
    from: panel
    each: row in 1..3
    {when}
    corner: [0 mm, 0 mm, row * 100 mm]
    width: depth
    runs: {{length: right, width: back}}
    edges: {{left: against side.left, right: against side.right}}
  foot:
    from: panel
    when: width > 900 mm
    corner: [width / 2, 0 mm, 0 mm]
    width: depth
    runs: {{length: up, width: back}}
    edges: {{bottom: against floor, top: "against shelf[1]"}}
joints:
  - {{join: shelf to side, with: pocket screws, pockets: bottom}}
  - {{join: "foot to shelf[1]", with: pocket screws, pockets: left}}
  - {{join: "shelf[1] to side.left, foot", with: glue}}
steps:
  - {{title: Shelves, fit: "shelf, side"}}
  - {{title: Make the foot, fit: foot, apart: foot}}
  - {{title: Put the foot under, joins: foot}}
  - {{title: Look at it}}
""".replace("[width - panel; 0 mm; 0 mm]", "[width - panel, 0 mm, 0 mm]")


def box(width: str, when: str = "") -> str:
    return BOX.format(width=width, when=when)


def names(text: str) -> list[str]:
    return [piece.name for piece in edition_of(text).pieces]


@pytest.mark.parametrize(("width", "found"), [("900 mm", False), ("901 mm", True)])
def test_a_part_is_there_when_its_condition_is_true(width: str, found: bool) -> None:
    assert ("foot" in names(box(width))) is found


def test_a_condition_may_differ_from_piece_to_piece() -> None:
    text = box("600 mm", "when: row != 2")

    assert ["shelf[1]", "shelf[3]"] == [name for name in names(text) if name.startswith("shelf")]


def test_a_condition_may_differ_from_edition_to_edition() -> None:
    text = box("{imperial: 40 in, metric: 800 mm}")
    imperial, metric = edition_of(text, "imperial"), edition_of(text, "metric")

    assert (7, 6) == (len(imperial.pieces) + 1, len(metric.pieces) + 1)


def test_joints_leave_out_pieces_that_do_not_exist_and_vanish_without_any() -> None:
    narrow, wide = edition_of(box("600 mm")), edition_of(box("1000 mm"))

    assert ["shelf to side", "shelf[1] to side.left, foot"] == [j.id for j in narrow.joints]
    assert (("side.left",),) == narrow.joints[1].second
    assert (("side.left",), ("foot",)) == wide.joints[2].second


def test_a_step_and_a_sub_assembly_of_pieces_that_do_not_exist_are_left_out() -> None:
    narrow, wide = assembly_of(box("600 mm")), edition_of(box("1000 mm"))

    assert ["Shelves", "Look at it"] == [step.title for step in narrow.steps]
    assert 4 == len(wide.steps)


def test_joints_steps_openings_and_what_is_bought_have_conditions_of_their_own() -> None:
    text = """
parameters: {wide: 1 > 2, narrow: not wide}
parts:
  board:
    from: panel
    length: 600 mm
    width: 200 mm
    runs: {length: right, width: back}
    openings:
      - {hole: 20 mm, from left: 100 mm, from front: 100 mm, when: wide}
      - {hole: 30 mm, from left: 100 mm, from front: 100 mm, when: narrow}
  lid:
    from: panel
    corner: [0 mm, 0 mm, panel]
    length: 600 mm
    width: 200 mm
    runs: {length: right, width: back}
joints:
  - {join: board to lid, with: glue, name: one, when: wide}
  - {join: board to lid, with: glue, name: two, when: narrow}
steps:
  - {title: First, fit: board}
  - {title: Wide, fit: lid, when: wide}
  - {title: Narrow, fit: lid, when: narrow}
buy:
  - {item: paint, quantity: 1, when: wide}
  - {item: oil, quantity: 1, when: narrow}
"""
    edition = edition_of(text)

    assert [(30.0,)] == [opening.sizes_mm for opening in edition.pieces[0].openings]
    assert ["two"] == [joint.id for joint in edition.joints]
    assert ["First", "Narrow"] == [step.title for step in edition.steps]
    assert ["oil"] == [buy.item for buy in edition.buys]


def test_a_plan_without_a_conditional_part_is_the_plan_of_a_design_that_never_had_it() -> None:
    with_it = box("600 mm")
    without = with_it[: with_it.index("  foot:")] + with_it[with_it.index("joints:") :]
    lines = [line for line in without.split("\n") if 'join: "foot' not in line]
    lines = [line for line in lines if "Make the foot" not in line and "Put the foot" not in line]
    plain = "\n".join(lines).replace("side.left, foot", "side.left")
    first, second = plan_of(with_it + "sizes: {wide: {width: 1 m}}\n"), plan_of(plain)

    assert [p.slab for p in first.parts.parts] == [p.slab for p in second.parts.parts]
    assert [s.head for s in first.joinery.fasteners] == [s.head for s in second.joinery.fasteners]


def test_an_edge_against_a_piece_that_does_not_exist_is_a_problem_that_says_why() -> None:
    text = box("600 mm").replace("right: against side.right}", "right: against foot}")
    (problem,) = {problem.what: problem for problem in edition_problems(text)}.values()

    assert "E122" == problem.code
    assert "its `when`: width > 900 mm = 600 > 900 = no" == problem.notes[0].text
    assert problem.help is not None
    assert "always there" in problem.help


def test_a_number_that_no_piece_ever_has_is_a_problem_though_others_are_left_out() -> None:
    text = box("600 mm", "when: row != 2").replace("against shelf[1]", "against floor")

    assert [] == codes(edition_problems(text.replace("fit: foot", "fit: 'shelf[2]'")))
    assert ["D202"] == codes(edition_problems(text.replace("fit: foot", "fit: 'shelf[4]'")))


def test_a_broken_requirement_is_said_in_the_words_of_the_maker_with_its_values() -> None:
    says = "says: |\n      Only {reach} and\n      no more.\n"
    text = f"require:\n  - that: depth >= 2 * reach\n    {says}"
    text += box("600 mm").replace("depth: 200 mm", "depth: 200 mm, reach: depth + 1 mm")
    (problem,) = edition_problems(text)

    assert ("E121", "Only 201 mm and no more.") == (problem.code, problem.what)
    assert [
        "asked for: depth >= 2 * reach = 200 >= 2 * 201 = no",
        "depth = 200 mm",
        "reach = depth + 1 mm = 200 + 1 = 201 mm",
    ] == [note.text for note in problem.notes]


def test_what_follows_from_a_broken_requirement_is_not_reported() -> None:
    text = "require:\n  - {that: depth > 0 mm, says: Too flat.}\n"

    assert ["E121"] == codes(edition_problems(text + box("600 mm").replace("200 mm", "-1 mm", 1)))


def test_a_requirement_that_is_kept_says_nothing() -> None:
    text = "require:\n  - {that: depth > 100 mm, says: Too flat.}\n" + box("600 mm")

    assert joinery_of(text).fasteners == joinery_of(box("600 mm")).fasteners


RACK = """
parameters: {{width: {width}, rows: 3}}
frames:
  row: {{each: row in 1..rows, at: [0 mm, 0 mm, row * 100 mm], when: {row}}}
parts:
  side:
    from: panel
    length: 400 mm
    width: 200 mm
    runs: {{length: up, width: back}}
    corners:
      top front: round 20 mm when width > 900 mm
      top back: clip 20 mm down by 30 mm front
    cuts:
      - {{notch: [50 mm, 10 mm], in: back, when: width > 900 mm}}
    at:
      left: {{when: {left}}}
      right: {{mirrors: left, across: {{right: width / 2}}}}
      middle: {{corner: [width / 2, 0 mm, 0 mm], when: width > 900 mm}}
  shelf:
    from: panel
    frame: row
    length: 300 mm
    width: 200 mm
    runs: {{length: right, width: back}}
"""


def rack(width: str = "900 mm", row: str = "rows > 0", left: str = "rows > 0") -> str:
    return RACK.format(width=width, row=row, left=left)


def test_a_copy_is_there_when_its_condition_is_true() -> None:
    assert "side.middle" not in names(rack())
    assert "side.middle" in names(rack("901 mm"))


def test_a_copy_that_mirrors_one_that_is_not_there_is_not_there_either() -> None:
    assert [] == [name for name in names(rack(left="rows > 9")) if name.startswith("side")]


@pytest.mark.parametrize(
    ("row", "found"), [("rows > 9", []), ("row != 2", [1, 3]), ("row < 9", [1, 2, 3])]
)
def test_what_stands_in_a_frame_is_there_when_the_frame_is(row: str, found: list[int]) -> None:
    shelves = [name for name in names(rack(row=row)) if name.startswith("shelf")]

    assert [f"shelf[{number}]" for number in found] == shelves


def test_corners_and_cuts_are_worked_when_their_conditions_are_true() -> None:
    for width, corners, cuts in (("900 mm", 1, 0), ("901 mm", 2, 1)):
        side = next(piece for piece in edition_of(rack(width)).pieces if piece.part == "side")

        assert (corners, cuts) == (len(side.corners), len(side.recesses))


def test_nothing_left_is_said_whatever_condition_took_it_away() -> None:
    text = rack(row="rows > 9", left="rows > 9")

    assert codes(edition_problems(text)) == ["E123"]
