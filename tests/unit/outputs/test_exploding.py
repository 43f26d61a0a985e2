"""How pieces move apart, on rows of pieces one can picture."""

import pytest

from generator.geometry.vectors import Vec3, dot, subtract
from generator.model.joinery import Contact
from generator.outputs.exploding import find_moves
from tests.sample_stand import sample_stand

SQUARE = ((0.0, 0.0, 0.0), (0.0, 10.0, 0.0), (0.0, 10.0, 10.0), (0.0, 0.0, 10.0))


def touch(first: str, second: str, normal: Vec3) -> Contact:
    return Contact(
        first=first, second=second, first_side=0, second_side=-1, outline=SQUARE, normal=normal,
        area_mm2=100.0,
    )  # fmt: skip


def test_three_pieces_in_a_row_stand_one_gap_apart_each() -> None:
    contacts = [touch("shelf", "left", (-1.0, 0.0, 0.0)), touch("shelf", "right", (1.0, 0.0, 0.0))]
    moves = find_moves(["left", "right", "shelf"], contacts, 50.0)

    assert subtract(moves["shelf"], moves["left"]) == pytest.approx((50, 0, 0))
    assert subtract(moves["right"], moves["shelf"]) == pytest.approx((50, 0, 0))


def test_a_piece_that_touches_nothing_stays_among_the_others() -> None:
    moves = find_moves(["a", "b", "alone"], [touch("a", "b", (0.0, 0.0, 1.0))], 50.0)

    assert moves["alone"] in {moves["a"], moves["b"]}


def test_a_plan_without_contacts_does_not_move() -> None:
    assert find_moves(["a"], [], 50.0) == {"a": (0.0, 0.0, 0.0)}


def test_all_pieces_that_touch_part_by_a_gap_along_their_contact() -> None:
    plan = sample_stand("metric")
    contacts = plan.joinery.contacts
    moves = find_moves([p.name for p in plan.parts.pieces()], contacts, 100.0)
    parted = [dot(subtract(moves[c.second], moves[c.first]), c.normal) for c in contacts]

    assert len(parted) >= 28
    assert min(parted) >= 99.0
