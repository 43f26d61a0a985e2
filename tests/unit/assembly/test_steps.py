"""Steps: what is there, what goes on, which joints become possible, and what is forgotten."""

from tests.little_designs import assemble, assembly_of, codes

FRAME = """
parts:
  side:
    from: panel
    length: 400 mm
    width: 300 mm
    runs: {length: up, width: back}
    at:
      left: {}
      right: {mirrors: left, across: {right: 300 mm}}
  shelf:
    from: panel
    each: number in 1..2
    width: 300 mm
    corner: [0 mm, 0 mm, number * 100 mm]
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
joints:
  - {join: shelf to side, with: pocket screws, pockets: bottom, count: 2, glue: yes}
steps:
"""
TWO = "  - {title: Left, fit: 'side.left, shelf'}\n  - {title: Right, fit: side.right}\n"


def test_steps_are_numbered_in_the_order_of_the_file() -> None:
    steps = assembly_of(FRAME + TWO).steps

    assert [(step.order, step.title) for step in steps] == [(1, "Left"), (2, "Right")]


def test_a_step_names_what_goes_on_and_what_is_there() -> None:
    first, second = assembly_of(FRAME + TWO).steps

    assert first.pieces == ("side.left", "shelf[1]", "shelf[2]")
    assert first.present == ()
    assert second.pieces == ("side.right",)
    assert second.present == ("side.left", "shelf[1]", "shelf[2]")


def test_screws_are_driven_when_both_pieces_are_there_and_only_once() -> None:
    first, second = assembly_of(FRAME + TWO).steps

    assert first.fasteners == ("S1", "S2", "S5", "S6")
    assert second.fasteners == ("S3", "S4", "S7", "S8")


def test_pieces_are_glued_when_they_are_joined() -> None:
    first, second = assembly_of(FRAME + TWO).steps

    assert first.glued == (("shelf[1]", "side.left"), ("shelf[2]", "side.left"))
    assert second.glued == (("shelf[1]", "side.right"), ("shelf[2]", "side.right"))


def test_a_sub_assembly_is_built_apart_and_joined_later() -> None:
    text = FRAME + (
        "  - {title: Apart, apart: ladder, fit: 'side.left, shelf'}\n"
        "  - {title: Alone, fit: side.right}\n"
        "  - {title: Together, joins: ladder}\n"
    )
    apart, alone, together = assembly_of(text).steps

    assert len(apart.fasteners) == 4
    assert alone.fasteners == ()
    assert alone.present == ()
    assert len(together.fasteners) == 4
    assert set(together.present) == {"side.left", "side.right", "shelf[1]", "shelf[2]"}
    assert together.joins == ("ladder",)


def test_layout_lines_inside_a_sub_assembly_are_not_drawn_again_when_it_goes_on() -> None:
    text = FRAME + (
        "  - {title: Apart, apart: ladder, fit: 'side.left, shelf'}\n"
        "  - {title: Alone, fit: side.right}\n"
        "  - {title: Together, joins: ladder}\n"
    )
    steps = assembly_of(text).steps

    assert [{name for mark in step.marks for name in mark.copies} for step in steps] == [
        {"side.left"},
        set(),
        {"side.right"},
    ]


def test_a_sub_assembly_can_be_built_in_several_steps() -> None:
    text = FRAME + (
        "  - {title: One, apart: ladder, fit: side.left}\n"
        "  - {title: Two, apart: ladder, fit: shelf}\n"
        "  - {title: Three, fit: side.right, joins: ladder}\n"
    )
    _, second, third = assembly_of(text).steps

    assert second.present == ("side.left",)
    assert len(second.fasteners) == 4
    assert len(third.fasteners) == 4


def test_a_sub_assembly_can_join_another_sub_assembly() -> None:
    text = FRAME + (
        "  - {title: One, apart: inner, fit: shelf}\n"
        "  - {title: Two, apart: outer, fit: side.left, joins: inner}\n"
        "  - {title: Three, fit: side.right, joins: outer}\n"
    )

    assert [len(step.fasteners) for step in assembly_of(text).steps] == [0, 4, 4]


def test_words_and_cautions_are_the_makers() -> None:
    text = FRAME + (
        "  - {title: All, fit: 'side, shelf', says: 'Keep {300 mm} clear.', "
        "cautions: ['Mind the {20 mm} edge.']}\n"
    )
    (step,) = assembly_of(text).steps

    assert step.says == "Keep 300 mm clear."
    assert step.cautions == ("Mind the 20 mm edge.",)


def test_a_piece_that_is_never_fitted_is_reported() -> None:
    text = FRAME + "  - {title: Left, fit: 'side, shelf[1]'}\n"

    assert codes(assemble(text)[1]) == ["A101"]


def test_a_piece_that_is_fitted_twice_is_reported() -> None:
    text = FRAME + TWO + "  - {title: Again, fit: 'shelf[2]'}\n"

    assert codes(assemble(text)[1]) == ["A102"]


def test_a_sub_assembly_that_is_never_joined_leaves_its_joints_unmade() -> None:
    text = FRAME + (
        "  - {title: Apart, apart: ladder, fit: 'side.left, shelf'}\n"
        "  - {title: Alone, fit: side.right}\n"
    )

    assert codes(assemble(text)[1]) == ["A103"]


def test_a_sub_assembly_cannot_go_on_before_it_is_built() -> None:
    text = FRAME + (
        "  - {title: Together, fit: side.right, joins: ladder}\n"
        "  - {title: Apart, apart: ladder, fit: 'side.left, shelf'}\n"
    )

    assert codes(assemble(text)[1]) == ["A104"]
