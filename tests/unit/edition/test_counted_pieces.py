"""Pieces counted by one range or by two: their names, their places, and how they are found."""

import pytest

from tests.little_designs import codes, edition_of, edition_problems, parts_of, piece_named

GRID = """
parameters: {{rows: 2, columns: 3}}
parts:
  block:
    from: panel
    {each}
    corner: [column * 100 mm, 0 mm, row * 50 mm]
    length: 60 mm
    width: 40 mm
    runs: {{length: right, width: back}}
steps:
  - title: All
    fit: "{fit}"
"""
TWO = "each: [row in 1..rows, column in 1..columns]"


def grid(fit: str = "block", each: str = TWO) -> str:
    return GRID.format(fit=fit, each=each)


def fitted(fit: str) -> list[str]:
    return list(edition_of(grid(fit)).steps[0].pieces)


def test_two_ranges_count_every_column_of_every_row() -> None:
    pieces = edition_of(grid()).pieces
    expected = [(r, c) for r in (1, 2) for c in (1, 2, 3)]

    assert [f"block[{r},{c}]" for r, c in expected] == [piece.name for piece in pieces]
    assert [(c * 100.0, 0.0, r * 50.0) for r, c in expected] == [p.frame.origin for p in pieces]


@pytest.mark.parametrize(
    ("fit", "found"),
    [
        ("block[1, 2]", ["block[1,2]"]),
        ("block[rows; columns - 1], block[1,1]", ["block[2,2]", "block[1,1]"]),
        ("block[*, 3]", ["block[1,3]", "block[2,3]"]),
        ("block[2, *]", ["block[2,1]", "block[2,2]", "block[2,3]"]),
    ],
)
def test_a_piece_is_named_by_both_numbers_and_a_star_means_all(fit: str, found: list[str]) -> None:
    assert found == fitted(fit)


@pytest.mark.parametrize("fit", ["block", "block[*]", "block[*, *]"])
def test_all_pieces_are_meant_by_the_name_alone_or_by_a_star(fit: str) -> None:
    assert 6 == len(fitted(fit))


@pytest.mark.parametrize("fit", ["block[1]", "block[3,1]", "block[1,2,3]", "block[1,4]"])
def test_numbers_no_piece_has_are_refused_with_those_there_are(fit: str) -> None:
    (problem,) = edition_problems(grid(fit))

    assert "D202" == problem.code
    assert "its pieces are numbered 1,1 to 2,3" == problem.help


def test_the_second_range_may_hang_on_the_first() -> None:
    names = [p.name for p in edition_of(grid(each="each: [row in 1..3, column in 2..row]")).pieces]

    assert ["block[2,2]", "block[3,2]", "block[3,3]"] == names


@pytest.mark.parametrize(
    ("each", "code"),
    [
        ("each: [row in 1..20, column in 1..11]", "E108"),
        ("each: [row in 1..20, column in 1..10]", ""),
        ("each: [row in 1..2, column in 1..0]", "E108"),
        ("each: [row in 1..2, row in 1..2]", "D204"),
    ],
)
def test_ranges_together_have_the_limits_of_one(each: str, code: str) -> None:
    text = grid(each=each).replace("column * 100 mm", "100 mm")

    assert [code] * bool(code) == codes(edition_problems(text))


def test_a_frame_may_be_counted_by_two_ranges() -> None:
    text = """
frames:
  bay: {each: [row in 1..2, column in 1..2], at: [column * 500 mm, 0 mm, row * 300 mm]}
parts:
  post: {from: panel, frame: bay, length: 200 mm, width: 50 mm, runs: {length: up, width: back}}
  bar:
    from: panel
    frame: bay
    corner: [0 mm, 0 mm, 100 mm]
    length: 200 mm
    width: 50 mm
    runs: {length: right, width: back}
    edges: {left: "against post[row, column]"}
"""
    text = text.replace(
        '{left: "against post[row, column]"}', '{left: "against post[row; column]"}'
    )
    _, piece = piece_named(parts_of(text), "bar[2,1]")

    assert piece.frame.origin == pytest.approx((518.0, 0.0, 700.0))
