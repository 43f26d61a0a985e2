"""Rods: how long they are, that they are round, and what cannot be done to them."""

import math

import pytest

from generator.geometry.rods import Rod
from generator.model.parts import Part
from tests.little_designs import HEAD, codes, part_named, parts_of, parts_problems

ROD_HEAD = HEAD + "  rod: {imperial: rod-1, metric: rod-25}\n"
ROD = """
parts:
  bar:
    from: rod
    corner: [10 mm, 0 mm, 0 mm]
    {size}
    runs: {{length: right, width: back}}
    {more}
  wall:
    from: panel
    corner: [400 mm, 0 mm, 0 mm]
    length: 100 mm
    width: 100 mm
    runs: {{length: up, width: back}}
    {turn}
"""


def rod(size: str = "length: 300 mm", more: str = "", turn: str = "") -> Part:
    text = ROD.format(size=size, more=more, turn=turn)
    return part_named(parts_of(text, head=ROD_HEAD), "bar")


def problems(size: str = "length: 300 mm", more: str = "", turn: str = "") -> list[str]:
    text = ROD.format(size=size, more=more, turn=turn)
    return codes(parts_problems(text, head=ROD_HEAD))


def test_a_rod_is_as_long_as_it_says_and_as_thick_as_its_stock_all_round() -> None:
    part = rod()

    assert Rod(300.0, 25.0) == part.slab
    assert (300.0, 25.0, 25.0) == (part.length_mm, part.width_mm, part.thickness_mm)
    assert part.section == "round"


def test_a_rod_weighs_as_much_as_a_cylinder_of_its_wood() -> None:
    assert math.pi / 4 * 0.025**2 * 0.3 * 605 == pytest.approx(rod().mass_kg)


def test_the_end_of_a_rod_can_be_cut_against_a_face_it_runs_into() -> None:
    assert 390.0 == pytest.approx(rod("edges: {right: against wall}").length_mm)


def test_a_rod_is_not_cut_at_an_angle() -> None:
    assert problems("edges: {right: against wall}", turn="turn: 3 deg about back") == ["P112"]
    assert problems(more="edges: {right: bevel 5 deg long on top}") == ["P112"]


@pytest.mark.parametrize(
    "work",
    [
        "corners: {right front: round 5 mm}",
        "openings: [{hole: 5 mm, from left: 50 mm, from front: 12 mm}]",
        "cuts: [{notch: [20 mm, 5 mm], in: front}]",
        "edges: {front: bevel 5 deg long on top}",
        "width: 20 mm",
        "width: 25 mm\n    pins: [{hole: 5 mm, deep: 5 mm, pitch: 32 mm, in: top, along: right, "
        "from left: 30 mm, from front: 12 mm}]",
    ],
)
def test_nothing_else_is_cut_into_a_rod(work: str) -> None:
    assert problems(more=work) == ["P112"]
    assert problems() == []


def test_a_rod_has_no_outline_of_its_own() -> None:
    assert problems(size="outline: [[0 mm, 0 mm], [90 mm, 0 mm], [0 mm, 25 mm]]") == ["P112"]


def test_rods_of_one_length_are_one_part_however_they_lie() -> None:
    text = ROD.format(size="length: 300 mm", more="", turn="").replace(
        "  wall:",
        "  post:\n    from: rod\n    length: 300 mm\n    runs: {length: up, width: right}\n"
        "    corner: [0 mm, 200 mm, 0 mm]\n  wall:",
    )
    parts = parts_of(text, head=ROD_HEAD)

    assert part_named(parts, "bar").label == part_named(parts, "post").label
