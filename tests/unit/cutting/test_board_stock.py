"""Boards on small jobs whose outcome can be seen at a glance."""

from collections.abc import Sequence

import pytest

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting
from generator.model.edition import Stock
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import find_faults, read_sawing


def _cut(lines: Sequence[Line], *stocks: Stock, kerf: float | None = 3.0) -> Cutting:
    parts = make_parts(lines, stocks)
    cutting, problems = plan_cutting(parts, stocks, make_saw(kerf), "metric")
    assert problems == ()
    assert cutting is not None
    assert find_faults(read_sawing(cutting, parts)) == []
    return cutting


def _line(label: str, count: int, length: float, width: float = 90.0) -> Line:
    return Line(label=label, count=count, length_mm=length, width_mm=width, stock="board")


def _bought(cutting: Cutting) -> list[float]:
    return sorted(board.size.length_mm for board in cutting.boards)


def test_a_board_of_two_pieces_needs_their_length_a_kerf_and_two_trims() -> None:
    lines = [_line("A", 2, 988.5)]
    enough = _cut(lines, make_board([2000, 2400], trim_mm=10))
    short = _cut([_line("A", 2, 988.6)], make_board([2000, 2400], trim_mm=10))

    assert _bought(enough) == [2000]
    assert _bought(short) == [2400]


def test_the_least_length_is_bought_and_not_the_fewest_boards() -> None:
    cutting = _cut([_line("A", 3, 1700)], make_board([1800, 4800]))

    assert _bought(cutting) == [1800, 1800, 1800]


def test_of_two_choices_with_one_length_the_one_with_fewer_boards_is_taken() -> None:
    cutting = _cut([_line("A", 2, 1100)], make_board([1200, 2400]))

    assert _bought(cutting) == [2400]


def test_pieces_are_paired_where_the_longest_first_would_waste_a_board() -> None:
    lines = [_line("A", 1, 600), _line("B", 2, 500), _line("C", 2, 400), _line("D", 1, 300)]
    cutting = _cut(lines, make_board([900]), kerf=None)

    assert _bought(cutting) == [900, 900, 900]
    assert [need.proved_least for need in cutting.board_needs] == [True]
    assert [need.bound_mm for need in cutting.board_needs] == [2700]


def test_narrow_parts_lie_abreast_and_are_ripped_from_one_length() -> None:
    cutting = _cut([_line("A", 3, 800, 28)], make_board([900, 2700]))
    (board,) = cutting.boards

    assert board.size.length_mm == 900
    assert [(one.x_mm, one.y_mm) for one in board.placements] == [(0, 0), (0, 31), (0, 62)]
    assert [cut.kind for cut in board.cuts] == ["crosscut", "rip", "rip"]


def test_lengths_that_are_ripped_alike_are_ripped_as_one() -> None:
    cutting = _cut([_line("A", 6, 400, 40)], make_board([1500]))
    (board,) = cutting.boards
    kinds = [cut.kind for cut in board.cuts]

    assert kinds.count("rip") == 2
    assert kinds[0] == "crosscut"
    assert kinds.index("rip") == 1


def test_a_short_piece_lies_beside_a_long_one() -> None:
    cutting = _cut([_line("A", 1, 900, 50), _line("B", 2, 440, 36)], make_board([900, 1800]))

    assert _bought(cutting) == [900]


def test_a_part_as_wide_as_its_board_is_not_ripped() -> None:
    cutting = _cut([_line("A", 2, 500)], make_board([1200], trim_mm=10))
    kinds = [cut.kind for cut in cutting.boards[0].cuts]

    assert kinds == ["trim", "trim", "crosscut", "crosscut"]


def test_one_stop_setting_serves_all_boards() -> None:
    cutting = _cut([_line("A", 4, 800)], make_board([1700]))
    crosscuts = [one for one in cutting.settings if one.kind == "crosscut"]

    assert [(one.value_mm, one.where, one.cuts) for one in crosscuts] == [
        (800, "board 1, board 2", 4)
    ]


def test_cuts_and_settings_of_boards_follow_those_of_sheets() -> None:
    sheet, board = make_stock([(1220.0, 610.0)]), make_board([1200])
    lines = [
        Line(label="A", count=1, length_mm=1000, width_mm=500),
        _line("B", 1, 700),
    ]
    cutting = _cut(lines, board, sheet)
    (on_sheet,), (on_board,) = cutting.layouts, cutting.boards
    last = max(cut.order for cut in on_sheet.cuts)

    assert [cut.order for cut in on_board.cuts] == [last + 1]
    assert [one.order for one in cutting.settings] == list(range(1, len(cutting.settings) + 1))
    assert (on_sheet.number, on_board.number) == (1, 1)
    assert [cut.of for cut in on_board.cuts] == ["board 1"]


def test_a_bevel_along_a_full_board_adds_nothing_to_its_width() -> None:
    line = Line(
        label="A", count=1, length_mm=500, width_mm=90, stock="board", bevels=(("back", 20.0),)
    )
    cutting = _cut([line], make_board([1200]))

    assert [(one.length_mm, one.width_mm) for one in cutting.blanks] == [(500, 90)]


def test_a_bevel_along_a_ripped_board_keeps_its_allowance() -> None:
    line = Line(
        label="A", count=1, length_mm=500, width_mm=60, stock="board", bevels=(("back", 20.0),)
    )
    cutting = _cut([line], make_board([1200]))

    assert [one.width_mm for one in cutting.blanks] == [66]


@pytest.mark.parametrize(
    ("length", "width", "said"),
    [
        (2390, 90, "the part needs 2390 mm; the board is 2380 mm long, its longest less two trims "
         "of 10 mm: 10 mm too little"),
        (500, 100, "the part needs 100 mm; the board is 90 mm wide: 10 mm too little"),
    ],
)  # fmt: skip
def test_a_part_too_long_or_too_wide_says_by_how_much(
    length: float, width: float, said: str
) -> None:
    stock = make_board([2400], trim_mm=10)
    parts = make_parts([_line("A", 1, length, width)], [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(3.0), "metric")

    assert cutting is None
    assert [problem.code for problem in problems] == ["N103"]
    assert [note.text for problem in problems for note in problem.notes] == [said]


def test_hundreds_of_pieces_are_planned_without_a_search_of_hours() -> None:
    lines = [_line(f"P{index}", 40, 300.0 + 97 * index) for index in range(10)]
    cutting = _cut(lines, make_board([1800, 2400, 3000, 3600, 4800], trim_mm=10))
    (need,) = cutting.board_needs

    assert 0 <= need.length_mm - need.bound_mm <= need.length_mm * 0.03
