"""Parts that sag too far and pieces that tip: at which load and size, and what they are told."""

import pytest

from generator.design.read import parse_design
from generator.edition.stage import evaluate_design
from generator.problems import ProblemLog
from tests.little_designs import (
    HEAD,
    SHELF_BETWEEN_SIDES,
    catalogue_of,
    codes,
    plan_of,
    plan_problems,
    say,
)

FREE = HEAD.replace("stands: hung", "stands: freely")

SHELF = (
    SHELF_BETWEEN_SIDES
    + """\
    carries: LOAD
joints:
  - {join: shelf to side, with: pocket screws, pockets: bottom}
steps: [{title: All, fit: "side, shelf"}]
"""
)


def test_a_shelf_that_sags_too_far_is_told_with_its_figures_and_what_would_do() -> None:
    (found,) = plan_problems(SHELF.replace("LOAD", "60 kg"))

    assert found.code == "C601"
    assert found.what == (
        "`shelf` sags by 9.2 mm, after years, under 60 kg over 900 mm between its supports; "
        "6.2 mm is the most"
    )
    assert found.help == (
        "make it at least 20.5 mm thick, or let it span at most 743.4 mm, or fix a strip on edge "
        "under it along each of its long sides"
    )


@pytest.mark.parametrize(("load", "found"), [("39 kg", []), ("41 kg", ["C601"])])
def test_a_shelf_may_sag_by_a_144th_of_its_span(load: str, found: list[str]) -> None:
    """(40 + 2.65) kg bend it by 6.25 mm: see the sag worked out by hand in test_sag."""
    assert codes(plan_problems(SHELF.replace("LOAD", load))) == found


def test_a_maker_may_ask_for_less_sag() -> None:
    text = SHELF.replace("LOAD", "30 kg\n    sag: 1/240")

    assert codes(plan_problems(text)) == ["C601"]
    assert codes(plan_problems(text.replace("30 kg", "20 kg"))) == []


def test_a_load_may_be_a_parameter_with_limits_and_stand_in_the_text() -> None:
    books = "parameters: {books: {imperial: 25 lb, metric: 12 kg, max: 40 kg}}\n"
    head = HEAD + "summary: For {2 * books} of books.\n" + books
    plan = plan_of(SHELF.replace("LOAD", "2 * books + 1 kg"), head=head)

    assert plan.edition.story.summary.startswith("For 24")
    assert plan.edition.story.summary.endswith(" kg of books.")
    assert [sag.load.mass_kg for sag in plan.strength.sags] == [25.0]
    assert codes(plan_problems(SHELF.replace("LOAD", "books"), head=head.replace("12", "41"))) == [
        "E101"
    ]


@pytest.mark.parametrize("sag", ["1/100", "0", "1/5000"])
def test_more_sag_than_the_usual_cannot_be_asked_for_nor_none(sag: str) -> None:
    assert codes(plan_problems(SHELF.replace("LOAD", f"30 kg\n    sag: {sag}"))) == ["E101"]


@pytest.mark.parametrize(
    ("load", "code"),
    [("0 kg", "E101"), ("6 * 1000 kg", "E101"), ("300", "E106"), ("300 mm", "E106"),
     ("30 kg per", "D108"), ("many kg", "D108"), ("30 kg per yard", "D108")],
)  # fmt: skip
def test_what_is_no_load_is_refused(load: str, code: str) -> None:
    log = ProblemLog()
    design = parse_design(HEAD + SHELF.replace("LOAD", load), "little.yml", "little", log)
    found = log.problems if design is None else evaluate_design(design, catalogue_of(), "metric")[1]

    assert codes(tuple(found)) == [code]


BLOCK = """
parts:
  low: {from: panel, length: 400 mm, width: 300 mm, runs: {length: right, width: back}}
  post:
    from: panel
    corner: [200 mm, 0 mm, panel]
    length: HIGH mm
    width: 300 mm
    runs: {length: up, width: back}
  top:
    from: panel
    corner: [LEFT mm, 0 mm, panel + HIGH mm]
    length: LONG mm
    width: 300 mm
    runs: {length: right, width: back}
joints:
  - {join: low to post, with: face screws}
  - {join: top to post, with: face screws}
steps: [{title: All, fit: "low, post, top"}]
"""


def block(high: int = 400, left: int = 0, long: int = 400, head: str = FREE) -> list[str]:
    text = BLOCK.replace("HIGH", str(high)).replace("LEFT", str(left)).replace("LONG", str(long))
    return codes(plan_problems(text, head=head))


def test_a_piece_whose_weight_is_beside_its_base_falls_by_itself() -> None:
    """Base from 0 to 400, post at 209; a top of 800 mm from 180 has its middle at 580.

    400 x 200 + 400 x 209 + 800 x 580 over 1600 is 392; with a top of 900 mm it is 418.
    """
    assert block(left=180, long=800) == []
    assert block(left=180, long=900) == ["C603"]


ANCHORED = "hardware: {anchor: {item: wall anchors, on: post, wall: yes}}\n"


@pytest.mark.parametrize("word", ["fixed", "hung"])
def test_what_is_on_a_wall_does_not_tip(word: str) -> None:
    head = HEAD.replace("stands: hung", f"stands: {word}") + ANCHORED

    assert block(left=180, long=900, head=head) == []


def test_before_a_wall_a_piece_is_told_how_it_tips_to_the_front_and_sides() -> None:
    text = BLOCK.replace("HIGH", "400").replace("LEFT", "0").replace("LONG", "400")
    hung, fixed, free = (
        plan_of(
            text.replace("300 mm", "100 mm"), head=HEAD.replace("hung", word) + ANCHORED
        ).strength.tipping
        for word in ("hung", "fixed", "freely")
    )

    assert hung is None
    assert fixed is not None
    assert free is not None
    assert fixed.way == "front"
    assert free.way in {"front", "back"}
    assert fixed.push_n == pytest.approx(free.push_n)


def test_what_has_an_anchor_for_the_wall_is_fixed_to_it() -> None:
    text = BLOCK.replace("HIGH", "400").replace("LEFT", "180").replace("LONG", "900")
    anchor = """hardware:
  anchor: {item: wall anchor, on: post, face: left, wall: yes,
           places: [{from top: 50 mm, from back: 50 mm}]}
steps: [{title: All, fit: "low, post, top, anchor"}]
"""

    assert codes(plan_problems(text, head=FREE)) == ["C603"]
    found = plan_problems(text.partition("steps:")[0] + anchor, head=FREE)
    assert codes(found) == [], say(found)


def test_it_stands_freely_where_nothing_is_said() -> None:
    assert block(left=180, long=900, head=HEAD.replace("stands: hung\n", "")) == ["C603"]


def test_only_what_is_high_and_heavy_is_judged_by_a_push() -> None:
    """ASTM F2057-23, 1.1: from 27 in (685.8 mm) and 30 lb on."""
    tall = """
parts:
  slab:
    from: panel
    each: number in 1..COUNT
    corner: [0 mm, (number - 1) * panel, 0 mm]
    length: HIGH mm
    width: 600 mm
    runs: {length: up, width: right}
joints: JOINTS
steps: [{title: All, fit: slab}]
"""

    def stack(count: int, high: int) -> list[str]:
        joints = [f'{{join: "slab[{i}] to slab[{i + 1}]", with: glue}}' for i in range(1, count)]
        text = tall.replace("COUNT", str(count)).replace("JOINTS", f"[{', '.join(joints)}]")
        return codes(plan_problems(text.replace("HIGH", str(high)), head=FREE))

    assert stack(4, 700) == ["C604"]  # 16.5 kg
    assert stack(4, 680) == []
    assert stack(3, 700) == []  # 12.4 kg


STEP = """
parts:
  side:
    from: panel
    length: 300 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {corner: [OVER mm, 0 mm, 0 mm]}
      right: {corner: [382 mm - OVER mm, 0 mm, 0 mm]}
  tread:
    from: panel
    corner: [0 mm, 0 mm, 300 mm]
    length: 400 mm
    width: 300 mm
    runs: {length: right, width: back}
    carries: 90 kg on one spot
joints:
  - {join: tread to side, with: face screws}
steps: [{title: All, fit: "side, tread"}]
"""


@pytest.mark.parametrize(("over", "found"), [(50, []), (60, ["C605"])])
def test_who_stands_beyond_the_base_tips_it(over: int, found: list[str]) -> None:
    """50 mm inside the edge; 2.9 kg hold 90 kg no more than 4.5 mm beyond the base."""
    problems = plan_problems(STEP.replace("OVER", str(over)), head=FREE)

    assert codes(problems) == found, say(problems)
