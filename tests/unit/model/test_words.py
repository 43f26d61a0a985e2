"""The words of the trade for the sample plan."""

from dataclasses import replace

import pytest

from generator.model.words import (
    bit_words,
    edge_word,
    mark_sentence,
    part_work,
    piece_side_word,
    plain_words,
)
from generator.units import System
from tests.samples import sample_plan


def _shifted_sentence(system: System, axis_mm: tuple[float, float]) -> str:
    """Tell of a patch on the inside of the left side that runs only so far along its width."""
    plan = sample_plan(system)
    part = plan.parts.part("A")
    low, high = axis_mm
    outline = ((50.0, low), (68.0, low), (68.0, high), (50.0, high))
    mark = replace(plan.assembly.steps[0].marks[0], outline=outline, from_mm=50.0, to_mm=68.0)
    return mark_sentence(mark, part, part.pieces[0], system)


def test_lines_that_end_on_the_part_say_where_measured_from_the_nearer_edge() -> None:
    near = _shifted_sentence("metric", (20.0, 100.0))
    far = _shifted_sentence("metric", (150.0, 230.0))

    assert "between 20 mm and 100 mm from the front edge, draw lines 50 mm and 68 mm" in near
    assert "between 20 mm and 100 mm from the back edge, draw lines 50 mm and 68 mm" in far


def test_a_mate_that_is_flush_with_an_edge_needs_one_line() -> None:
    plan = sample_plan("metric")
    part = plan.parts.part("A")
    outline = ((0.0, 0.0), (18.0, 0.0), (18.0, 250.0), (0.0, 250.0))
    mark = replace(plan.assembly.steps[0].marks[0], outline=outline, from_mm=0.0, to_mm=18.0)

    assert mark_sentence(mark, part, part.pieces[0], "metric") == (
        "On the right face draw a line 18 mm from the bottom end; B goes between line and edge."
    )


def test_names_of_a_design_are_told_as_words() -> None:
    assert plain_words("tray_bottom[2]") == "tray bottom 2"
    assert plain_words("side.left to seat_board") == "side left to seat board"


def test_bits_are_named_as_they_are_sold() -> None:
    assert bit_words(4.366, "imperial") == "11/64 in"
    assert bit_words(9.525, "imperial") == "3/8 in"
    assert bit_words(4.55, "imperial") == "4.5 mm"
    assert bit_words(3.0, "metric") == "3 mm"


def test_a_square_patch_is_told_by_two_distances_from_an_end() -> None:
    plan = sample_plan("imperial")
    mark = plan.assembly.steps[0].marks[0]

    assert (
        mark_sentence(mark, plan.parts.part("A"), plan.parts.part("A").pieces[0], "imperial")
        == "On the right face draw lines 2 in and 2 23/32 in from the bottom end; B goes between."
    )


def test_a_slanted_patch_is_told_by_its_corners() -> None:
    plan = sample_plan("metric")
    mark = plan.assembly.steps[1].marks[0]
    text = mark_sentence(mark, plan.parts.part("A"), plan.parts.part("A").pieces[0], "metric")

    assert text.startswith("On the right face mark these points and join them: ")
    assert "250 mm from the bottom end and 25" in text
    assert text.count("from the bottom end") == 4
    assert text.endswith(" C goes inside.")


@pytest.mark.parametrize("turn", range(4))
@pytest.mark.parametrize("way", [1, -1])
def test_corners_are_told_from_the_lowest_whatever_the_first_of_the_patch(
    turn: int, way: int
) -> None:
    plan = sample_plan("metric")
    part = plan.parts.part("A")
    mark = plan.assembly.steps[1].marks[0]
    outline = (mark.outline[turn:] + mark.outline[:turn])[::way]
    text = mark_sentence(replace(mark, outline=outline), part, part.pieces[0], "metric")

    assert mark_sentence(mark, part, part.pieces[0], "metric") == text
    assert text.split(": ")[1].startswith("202.2 mm from the bottom end and 250")


@pytest.mark.parametrize(
    ("low_mm", "words"), [(0.0, ", within 180 mm of"), (2.0, ", between 2 mm and 180 mm from")]
)
def test_lines_that_begin_at_an_edge_are_within_a_distance_of_it(low_mm: float, words: str) -> None:
    text = _shifted_sentence("metric", (low_mm, 180.0))

    assert text.startswith(f"On the right face{words} the front edge, draw lines 50 mm")


def test_a_flipped_copy_names_its_faces_in_its_own_way() -> None:
    plan = sample_plan("metric")
    part = plan.parts.part("A")
    left, right = part.pieces
    marks = plan.assembly.steps[0].marks

    assert piece_side_word(left, part, marks[0].side) == "right face"
    assert piece_side_word(right, part, marks[1].side) == "left face"


def test_only_edges_that_are_more_than_a_square_cut_are_work() -> None:
    part = sample_plan("metric").parts.part("C")

    assert part_work(part, "metric") == (
        "back edge: blade tilted 12°, long point on the bottom face",
        "hole 40 mm",
    )
    assert edge_word(part.edges[3]) == "left end"
