"""Sizes of a design: which plans there are, how they are called, and what their values are."""

from pathlib import Path

import pytest

from generator.design.overrides import choose_size, override_parameters
from generator.edition.stage import evaluate_design
from generator.targets import find_targets
from generator.units import System
from tests.little_designs import (
    HEAD,
    catalogue_of,
    codes,
    edition_of,
    plan_problems,
    read_text,
)

BOARD = """
parameters: {width: {value: 500 mm, max: 900 mm}, half: width / 2, third: width / 3}
parts:
  board: {from: panel, length: half, width: third / 2, runs: {length: right, width: back}}
steps:
  - {title: Lay it down, fit: board}
"""
SIZES = """
sizes:
  wide: {width: 800 mm, says: For a broad wall}
  very_wide: {width: {imperial: 35 in, metric: 850 mm}, third: 300 mm}
"""


def write(folder: Path, slug: str, text: str) -> None:
    (folder / slug).mkdir()
    (folder / slug / "design.yml").write_text(HEAD + text, "utf-8")


def slugs(folder: Path) -> list[str]:
    return [target.slug for target in find_targets(folder)]


def test_a_design_and_each_of_its_sizes_is_a_plan_of_its_own(tmp_path: Path) -> None:
    write(tmp_path, "shelf", BOARD + SIZES)
    write(tmp_path, "box", BOARD)

    assert ["box", "shelf", "shelf-wide", "shelf-very-wide"] == slugs(tmp_path)


def test_a_design_that_cannot_be_read_is_one_plan(tmp_path: Path) -> None:
    write(tmp_path, "shelf", BOARD + SIZES.replace("says", "width"))

    assert ["shelf"] == slugs(tmp_path)


def test_a_size_with_the_name_of_another_plan_is_a_problem_at_its_line(tmp_path: Path) -> None:
    write(tmp_path, "shelf", BOARD + SIZES)
    write(tmp_path, "shelf-wide", BOARD)
    shelf = find_targets(tmp_path)[0]

    assert ["shelf", "shelf-wide"] == slugs(tmp_path)
    assert ["D208"] == codes(shelf.problems)
    assert shelf.problems[0].place is not None
    assert "  wide: {width: 800 mm, says: For a broad wall}" == shelf.problems[0].place.text


@pytest.mark.parametrize(
    ("size", "system", "width"),
    [("", "metric", 500.0), ("wide", "metric", 800.0), ("wide", "imperial", 800.0),
     ("very_wide", "metric", 850.0), ("very_wide", "imperial", 889.0)],
)  # fmt: skip
def test_a_size_gives_parameters_other_values_and_the_rest_follows(
    size: str, system: System, width: float
) -> None:
    design = choose_size(read_text(BOARD + SIZES), size)
    edition, _ = evaluate_design(design, catalogue_of(), system)

    assert edition is not None
    values = {one.name: float(one.quantity) for one in edition.parameters}
    assert (width, width / 2) == pytest.approx((values["width"], values["half"]))


def test_a_size_says_so_in_its_title_and_has_a_name_of_its_own() -> None:
    design = choose_size(read_text(BOARD + SIZES), "very_wide")
    edition, _ = evaluate_design(design, catalogue_of(), "metric")

    assert edition is not None
    assert "Little, very wide" == edition.story.title
    assert ("little-very-wide", "little") == (edition.story.slug, edition.story.design)
    assert ("little", "") == (edition_of(BOARD + SIZES).story.slug, edition_of(BOARD).story.size)


def test_a_size_keeps_the_limits_of_its_parameters_and_is_blamed_where_it_stands() -> None:
    design = choose_size(read_text(BOARD + SIZES.replace("800 mm", "901 mm")), "wide")
    (problem,) = evaluate_design(design, catalogue_of(), "metric")[1]

    assert "E101" == problem.code
    assert problem.place is not None
    assert "sizes.wide.width" == problem.place.key


def test_the_command_line_goes_before_a_size() -> None:
    design = choose_size(read_text(BOARD + SIZES), "wide")
    changed, problems = override_parameters(design, {"width": "600 mm"})
    edition, _ = evaluate_design(changed, catalogue_of(), "metric")

    assert () == problems
    assert edition is not None
    assert 600.0 == float(edition.parameters[0].quantity)


def test_a_parameter_that_only_a_value_uses_which_a_size_replaces_counts_as_used() -> None:
    text = BOARD.replace("third: width / 3", "unit: 50 mm, third: 3 * unit")
    design = choose_size(read_text(text + "sizes: {flat: {third: 100 mm}}"), "flat")
    _, problems = evaluate_design(design, catalogue_of(), "metric")

    assert () == problems
    assert "D301" not in codes(plan_problems(text))
