"""The words of the trade for the sample plan."""

from generator.model.words import edge_word, mark_sentence, part_work, piece_side_word
from tests.samples import sample_plan


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
