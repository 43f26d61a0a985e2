"""Blanks with what bevels need, and parts that no sheet gives."""

import pytest

from generator.cutting.blanks import check_counts, check_size, make_blank, trim_of
from generator.problems import Problem
from generator.units import System
from tests.plain_parts import Line, make_parts, make_stock

SHEET = make_stock([(2440.0, 1220.0), (1220.0, 1220.0)], trim_mm=6.0)


def _check(line: Line, system: System = "metric") -> tuple[Problem, ...]:
    (part,) = make_parts([line], [SHEET]).parts
    return check_size(part, make_blank(part, system), 3.2, system)


def test_a_blank_without_bevels_has_the_finished_size() -> None:
    (part,) = make_parts([Line(label="A", count=2, length_mm=700, width_mm=300)], [SHEET]).parts
    blank = make_blank(part, "metric")

    assert (blank.length_mm, blank.width_mm) == (700, 300)
    assert blank.allowance_mm == (0, 0, 0, 0)


@pytest.mark.parametrize(("system", "spare"), [("metric", 6.0), ("imperial", 6.35)])
def test_a_blank_is_wider_at_the_sides_that_are_bevelled_and_only_there(
    system: System, spare: float
) -> None:
    line = Line(
        label="A",
        count=1,
        length_mm=762,
        width_mm=381,
        bevels=(("front", 12.0), ("back", 12.0), ("right", 5.0)),
    )
    (part,) = make_parts([line], [SHEET]).parts
    blank = make_blank(part, system)

    assert blank.allowance_mm == pytest.approx((0, spare, spare, spare))
    assert (blank.length_mm, blank.width_mm) == pytest.approx((762 + spare, 381 + 2 * spare))


def test_a_part_that_just_fits_is_let_through() -> None:
    assert _check(Line(label="A", count=1, length_mm=2428, width_mm=1208)) == ()


def test_a_part_too_wide_is_told_what_it_needs_what_there_is_and_by_how_much() -> None:
    (problem,) = _check(Line(label="A", count=1, length_mm=640, width_mm=1260))

    assert problem.what == "part `a` (640 mm by 1260 mm) fits no sheet of `panel-18`"
    assert [note.text for note in problem.notes] == [
        "it needs 1260 mm across the sheet; the largest offers 1208 mm "
        "(1220 mm less two trims of 6 mm), 52 mm too little"
    ]


def test_a_part_that_would_fit_turned_is_told_so() -> None:
    (problem,) = _check(Line(label="A", count=1, length_mm=640, width_mm=1260))

    assert problem.help == "`grain: either` would let it be turned, and turned it fits"


def test_a_part_that_may_turn_is_turned() -> None:
    assert _check(Line(label="A", count=1, length_mm=640, width_mm=1260, grain="either")) == ()


def test_a_part_that_fits_no_way_is_not_sent_to_turn_its_grain() -> None:
    (problem,) = _check(Line(label="A", count=1, length_mm=2500, width_mm=400))

    assert problem.help == (
        "make it 72 mm smaller there, or make it of two parts; turning the grain would not help"
    )


def test_a_part_that_fits_but_for_its_bevels_is_told_of_them() -> None:
    line = Line(label="A", count=1, length_mm=2428, width_mm=400, bevels=(("left", 10.0),))
    (problem,) = _check(line)

    assert problem.notes[-1].text == "every side that is bevelled adds 6 mm to its blank"


def test_sizes_in_an_imperial_plan_come_in_inches_first() -> None:
    (problem,) = _check(Line(label="A", count=1, length_mm=640, width_mm=50 * 25.4), "imperial")

    assert problem.notes[0].text.startswith("it needs 50 in (1270 mm) across the sheet")


def test_more_copies_than_the_limit_are_refused() -> None:
    lines = [Line(label="A", count=501, length_mm=50, width_mm=50)]
    (problem,) = check_counts(make_parts(lines, [SHEET]).parts)

    assert problem.what == "`a` would need 501 copies; the most is 500"


def test_too_many_copies_of_all_parts_together_are_refused() -> None:
    lines = [Line(label=name, count=500, length_mm=50, width_mm=50) for name in "ABCDE"]
    (problem,) = check_counts(make_parts(lines, [SHEET]).parts)

    assert problem.what == "`the whole` would need 2500 copies; the most is 2000"


def test_a_trim_is_never_less_than_the_kerf_but_may_be_nothing() -> None:
    assert trim_of(make_stock([(100, 100)], trim_mm=0).goods, 3.2) == 0
    assert trim_of(make_stock([(100, 100)], trim_mm=1).goods, 3.2) == 3.2
    assert trim_of(make_stock([(100, 100)], trim_mm=6).goods, 3.2) == 6


@pytest.mark.parametrize(
    ("system", "finished", "blank_mm"),
    [("metric", 348.39, 361.0), ("imperial", 13.73 * 25.4, 14.25 * 25.4), ("metric", 348.0, 360.0)],
)
def test_a_blank_with_an_allowance_is_as_wide_as_the_next_mark_on_the_tape(
    system: System, finished: float, blank_mm: float
) -> None:
    bevels = (("front", 12.0), ("back", 12.0))
    line = Line(label="A", count=1, length_mm=574, width_mm=finished, bevels=bevels)
    (part,) = make_parts([line], [SHEET]).parts

    assert make_blank(part, system).width_mm == pytest.approx(blank_mm, abs=1e-6)


def test_a_blank_without_an_allowance_is_never_rounded() -> None:
    line = Line(label="A", count=1, length_mm=574.3, width_mm=348.39)
    (part,) = make_parts([line], [SHEET]).parts
    blank = make_blank(part, "metric")

    assert (blank.length_mm, blank.width_mm) == (574.3, 348.39)
