"""Parts from boards: their width, their grain, and which boards there are."""

import pytest

from generator.edition.stage import evaluate_design
from generator.problems import Problem
from generator.units import System
from tests.little_designs import catalogue_of, codes, parts_of, read_text

HEAD = """\
title: Little
date: 2026-11-25
stock:
  stick: {imperial: 2x4, metric: 38x89}
"""
RAIL = "parts:\n  rail: {from: stick, length: 600 mm, runs: {length: right, width: up}KEYS}\n"


def _problems(text: str, head: str, system: System = "metric") -> tuple[Problem, ...]:
    return evaluate_design(read_text(text, head), catalogue_of(), system)[1]


@pytest.mark.parametrize(("system", "width_mm"), [("metric", 89), ("imperial", 88.9)])
def test_a_part_from_a_board_without_a_width_is_as_wide_as_the_board(
    system: System, width_mm: float
) -> None:
    (part,) = parts_of(RAIL.replace("KEYS", ""), system, head=HEAD).parts

    assert part.width_mm == pytest.approx(width_mm)
    assert part.thickness_mm == pytest.approx(38 if system == "metric" else 38.1)


def test_a_width_that_is_given_is_the_width() -> None:
    (part,) = parts_of(RAIL.replace("KEYS", ", width: stick"), head=HEAD).parts

    assert part.width_mm == pytest.approx(38)


def test_a_part_whose_far_edge_is_cut_to_fit_is_ripped_to_fit() -> None:
    text = "planes:\n  lid: {at: [0 mm, 0 mm, 70 mm], facing: up}\n"
    text += RAIL.replace("KEYS", ", edges: {top: against lid}")
    (part,) = parts_of(text, head=HEAD).parts

    assert part.width_mm == pytest.approx(70)


def test_a_part_whose_near_edge_is_cut_to_fit_reaches_as_far_as_the_board() -> None:
    text = "planes:\n  sill: {at: [0 mm, 0 mm, 9 mm], facing: up}\n"
    text += RAIL.replace("KEYS", ", edges: {bottom: against sill}")
    (part,) = parts_of(text, head=HEAD).parts

    assert part.width_mm == pytest.approx(80)


def test_another_part_may_be_cut_against_the_edge_of_a_full_board() -> None:
    text = RAIL.replace("KEYS", "")
    text += "  post: {from: stick, runs: {length: up, width: back}, length: 500 mm,"
    text += " edges: {bottom: against rail.top}}\n"
    rail, post = parts_of(text, head=HEAD).parts

    assert (rail.name, post.name) == ("rail", "post")
    assert post.length_mm == pytest.approx(411)


def test_a_formula_may_ask_for_the_width_of_a_board() -> None:
    text = RAIL.replace("600 mm", "stick_width + 2 * stick").replace("KEYS", "")
    (part,) = parts_of(text, head=HEAD).parts

    assert part.length_mm == pytest.approx(89 + 2 * 38)


def test_a_sheet_has_no_width_to_ask_for() -> None:
    head = HEAD.replace("38x89", "plywood-18").replace("2x4", "plywood-3/4")
    text = RAIL.replace("600 mm", "stick_width").replace("KEYS", ", width: 50 mm")

    assert codes(_problems(text, head)) == ["D203"]


def test_the_grain_of_a_board_runs_along_it_whatever_the_file_says() -> None:
    (part,) = parts_of(RAIL.replace("KEYS", ", grain: either"), head=HEAD).parts

    assert part.grain == "along"


def test_a_board_that_is_not_in_the_catalogue_is_told_with_the_nearest() -> None:
    (problem,) = _problems(RAIL.replace("KEYS", ""), HEAD.replace("38x89", "38x98"))

    assert problem.code == "D205"
    assert problem.what == (
        "no entry `38x98` in shared/sheets.yml, shared/boards.yml or shared/edgings.yml"
    )
    assert problem.help is not None
    assert problem.help.startswith("did you mean `38x89`")


def test_a_board_of_the_other_edition_is_refused() -> None:
    problems = _problems(RAIL.replace("KEYS", ""), HEAD.replace("38x89", "2x4"))

    assert codes(problems) == ["D207"]
    assert [problem.what for problem in problems] == [
        "`2x4` is in shared/boards.yml for the imperial edition, not for the metric one"
    ]
