"""The drawings and tables of a plan from boards: every blank and every cut is told."""

import re
from functools import cache

import pytest

from generator.model.plan import Plan
from generator.outputs.board_drawing import MOST_ON_A_PAGE, draw_boards
from generator.outputs.plan_json import plan_to_dict
from generator.outputs.scene import Scene, Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.tables import cut_order_csv
from generator.telling.buying_tables import make_sheets_bought
from generator.units import SYSTEMS, System
from tests.little_designs import plan_of

HEAD = """\
title: Rack
stands: hung
date: 2026-11-25
stock:
  board: {imperial: 1x6, metric: 18x144}
  post: {imperial: 2x4, metric: 38x89}
accept:
  - {code: C201, where: parts.slat, reason: three strips of a board are ripped on a table saw}
"""
RACK = """
parts:
  post:
    from: post
    length: HIGH
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 380 mm}}
  slat:
    from: board
    each: n in 1..SLATS
    corner: [0 mm, 0 mm - board, n * 60 mm]
    length: LONG
    width: 42 mm
    runs: {length: right, width: up}
joints: [{join: slat to post, with: glue}]
steps: [{title: Glue, fit: [slat, post]}]
"""


@cache
def _plan(system: System, slats: int = 7, high: str = "600 mm", long: str = "760 mm") -> Plan:
    text = RACK.replace("SLATS", str(slats)).replace("HIGH", high).replace("LONG", long)
    return plan_of(text, system, HEAD)


def _texts(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_blank_and_every_cut_stands_on_the_drawing(system: System) -> None:
    plan = _plan(system)
    (scene,) = draw_boards(plan)
    texts = _texts(scene)
    orders = [str(cut.order) for board in plan.cutting.boards for cut in board.cuts]

    assert sum(text.split()[0] == "B" for text in texts) == 7
    assert sum(text.split()[0] == "A" for text in texts) == 2
    assert sorted(orders) == sorted(text for text in texts if text in orders)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_words_of_a_drawing_of_boards_stay_on_the_paper(system: System) -> None:
    (scene,) = draw_boards(_plan(system))

    assert find_text_faults(scene) == []


def test_a_drawing_names_its_boards_and_what_is_left_of_them() -> None:
    (scene,) = draw_boards(_plan("metric"))

    assert scene.title == "Boards 1 to 2 of 2"
    assert "Board 2: 38 × 89 mm softwood board, planed, 1800 mm" in _texts(scene)
    assert "left over" in scene.description


def test_many_boards_are_drawn_a_few_at_a_time() -> None:
    plan = _plan("metric", 36, "2300 mm", "2600 mm")
    scenes = draw_boards(plan)

    assert len(plan.cutting.boards) > MOST_ON_A_PAGE
    assert len(scenes) == -(-len(plan.cutting.boards) // MOST_ON_A_PAGE)


def test_plan_json_tells_of_boards_as_of_sheets() -> None:
    told = plan_to_dict(_plan("metric"))
    slats, posts = told["boards"]

    assert told["sheets"] == []
    assert (posts["size_mm"], posts["trim_mm"]) == ([1800, 89], [10, 10, 0, 0])
    assert [one["x_mm"] for one in posts["placements"]] == pytest.approx([10, 612.4], abs=0.1)
    assert posts["proved_least"]
    assert not slats["proved_least"]
    assert (told["figures"]["boards"], told["figures"]["board_mm"]) == (2, 4200)


def test_the_page_says_what_is_known_of_buying_less_board() -> None:
    slats, posts = make_sheets_bought(_plan("metric"))

    assert posts.endswith(" No choice of lengths buys less of it.")
    assert re.search(r" might buy less, but by no more than \d+ mm\.$", slats)


def test_cuts_in_boards_stand_in_the_cut_order_under_the_number_of_their_board() -> None:
    rows = [line.split(",") for line in cut_order_csv(_plan("metric")).decode().splitlines()]

    assert rows[0][:4] == ["order", "sheet", "board", "kind"]
    assert {row[1] for row in rows[1:]} == {""}
    assert {row[2] for row in rows[1:]} == {"1", "2"}
    assert [int(row[0]) for row in rows[1:]] == list(range(1, len(rows)))
