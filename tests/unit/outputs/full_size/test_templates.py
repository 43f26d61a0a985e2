"""Templates, measured on the printed page with nothing but a picture of it."""

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box, unary_union
from shapely.geometry import LineString

from generator.model.parts import Part
from generator.model.plan import Plan
from generator.outputs.booklet.paper import PAPERS
from generator.outputs.full_size.alignment import find_alignment
from generator.outputs.full_size.shapes import Shape, find_shape
from generator.outputs.full_size.templates import templates_pdf
from generator.outputs.full_size.tiles import OVERLAP_MM, lay_tiles
from generator.outputs.rounding import points as rounded_points
from generator.outputs.rounding import vector
from generator.units import SYSTEMS, System
from tests.little_designs import parts_of
from tests.pdf_reader import Pdf, longest_dark_run_mm
from tests.samples import sample_plan

DPI = 400
DOT_MM = 25.4 / DPI
DARK = 60
"""Outlines and bars are darker, all other lines are not."""
WIDE_MM = 0.5
"""Of outlines and bars."""
ALLOWED_MM = 0.2
BAR_MM = {"imperial": 4 * 25.4, "metric": 100.0}
WINDOW_MM = 30.0
"""Text and bars stand nearer to the edges of the paper than that; the part does not."""

SQUARE = """\
parts:
  cheek:
    from: panel
    length: 150 mm
    width: 150 mm
    runs: {length: right, width: up}
    corners: {top right: round 45 mm, top left: clip 35 mm down by 20 mm right}
    at: {left: {corner: [0 in, 0 in, 0 in]}}
"""


def plan_with(text: str, system: System) -> Plan:
    return replace(sample_plan(system), parts=parts_of(text, system))


def print_plan(plan: Plan, folder: Path) -> Pdf:
    pdf = templates_pdf(plan)
    assert pdf is not None
    path = folder / "templates.pdf"
    path.write_bytes(pdf)
    return Pdf(path)


@pytest.fixture(scope="module", params=SYSTEMS)
def printed(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Plan, Pdf]:
    plan = plan_with(SQUARE, request.param)
    return plan, print_plan(plan, tmp_path_factory.mktemp(request.param))


def test_a_part_of_150_mm_measures_150_mm_both_ways_on_the_printed_page(
    printed: tuple[Plan, Pdf],
) -> None:
    dark = wood_of(printed[1].lines(2, DPI))
    columns, rows = np.flatnonzero(dark.any(axis=0)), np.flatnonzero(dark.any(axis=1))

    for run in (columns, rows):
        assert (run[-1] - run[0] + 1) * DOT_MM - WIDE_MM == pytest.approx(150.0, abs=ALLOWED_MM)


def test_the_bar_is_as_long_as_it_says(printed: tuple[Plan, Pdf]) -> None:
    """From middle to middle of the ticks at its ends."""
    plan, pdf = printed
    picture = pdf.lines(2, DPI)
    foot = picture[int(-26.0 / DOT_MM) :, :]
    side = picture[:, int(-10.0 / DOT_MM) :].T

    for strip in (foot, side):
        run_mm = longest_dark_run_mm(strip, DPI, DARK) - WIDE_MM
        assert run_mm == pytest.approx(BAR_MM[plan.edition.system], abs=ALLOWED_MM)


def test_every_point_of_the_outline_in_plan_json_is_on_the_printed_line(
    printed: tuple[Plan, Pdf],
) -> None:
    """One of the four ways to lay the part must fit, with its lower left corner on the line's."""
    plan, pdf = printed
    points, bulges = told_outline(plan.parts.parts[0])
    dark = wood_of(pdf.lines(2, DPI))
    columns, rows = np.flatnonzero(dark.any(axis=0)), np.flatnonzero(dark.any(axis=1))
    half = WIDE_MM / 2 / DOT_MM
    left, low = columns[0] + half, rows[-1] - half
    worst = min(
        max(off_mm(dark, left, low, laid(point, way)) for point in outline_points(points, bulges))
        for way in ((False, False), (False, True), (True, False), (True, True))
    )

    assert worst <= ALLOWED_MM


def test_a_sheet_says_what_it_is_which_face_and_how_to_print_it(printed: tuple[Plan, Pdf]) -> None:
    plan, pdf = printed
    words = " ".join(pdf.pages()[1].split())

    assert "A Cheek: template, tile 1 of 1" in words
    assert "Print at 100 %" in words
    assert {"imperial": "4 in", "metric": "100 mm"}[plan.edition.system] in words
    assert f"{plan.parts.parts[0].face_words[0]} face" in words
    assert "grain" in words
    assert "Lay it against" in words
    assert all(embedded for _, embedded in pdf.fonts())
    assert "yes" == pdf.facts()["Tagged"]


def test_a_title_in_any_script_is_set_without_a_warning() -> None:
    plan = plan_with(SQUARE, "metric")
    (part,) = plan.parts.parts
    named = replace(part, title="\u6728\u677f $x_{ #y <b> \U0001f600")
    plan = replace(plan, parts=replace(plan.parts, parts=(named,)))

    assert (templates_pdf(plan) or b"").startswith(b"%PDF-1.7")


def test_a_plan_of_plain_rectangles_has_no_templates() -> None:
    plain = SQUARE.replace("    corners:", "    # corners:")

    assert templates_pdf(plan_with(plain, "metric")) is None


def test_a_slot_far_from_every_edge_is_laid_on_lines_that_are_measured() -> None:
    text = """\
parts:
  top:
    from: panel
    length: 900 mm
    width: 700 mm
    runs: {length: right, width: up}
    openings: [{slot: [100 mm, 30 mm], along: right, from left: 400 mm, from bottom: 350 mm}]
    at: {left: {corner: [0 in, 0 in, 0 in]}}
"""
    shape = find_shape(parts_of(text).parts[0])
    assert shape is not None
    tiles = lay_tiles(shape, PAPERS["metric"])
    alignment = find_alignment(shape, tiles, 1, "metric")

    assert 1 == len(tiles)
    assert () == alignment.edges
    assert ["500 mm from the right end", "350 mm from the bottom edge"] == [
        one.words for one in alignment.references
    ]


BOXES = st.tuples(st.floats(0, 2000), st.floats(0, 1200), st.floats(1, 900), st.floats(1, 900))


@given(st.lists(BOXES, min_size=1, max_size=4), st.sampled_from(SYSTEMS))
def test_every_shaped_line_is_on_a_sheet_and_no_sheet_could_be_left_out(
    boxes: list[tuple[float, float, float, float]], system: System
) -> None:
    lines = tuple(LineString([(x, y), (x + w, y), (x + w, y + h)]) for x, y, w, h in boxes)
    shape = replace(some_shape(), lines=lines)
    windows = [box(*tile.window) for tile in lay_tiles(shape, PAPERS[system])]
    drawn = unary_union(lines)

    assert drawn.difference(unary_union(windows)).length < 1e-6
    for window in windows:
        others = unary_union([one for one in windows if one is not window])
        assert drawn.difference(others).length > 0


@given(st.floats(300, 1500), st.floats(300, 900))
def test_sheets_beside_each_other_share_a_strip(width: float, height: float) -> None:
    frame = LineString(box(0, 0, width, height).exterior)
    shape = replace(some_shape(), lines=(frame,))
    tiles = lay_tiles(shape, PAPERS["metric"])

    for one, other in itertools.combinations(tiles, 2):
        if one.row == other.row and abs(one.column - other.column) == 1:
            shared = box(*one.window).intersection(box(*other.window)).bounds
            assert shared[2] - shared[0] == pytest.approx(OVERLAP_MM)


@cache
def some_shape() -> Shape:
    shape = find_shape(parts_of(SQUARE).parts[0])
    assert shape is not None
    return shape


def laid(point: tuple[float, float], way: tuple[bool, bool]) -> tuple[float, float]:
    """Return where a point is when the part is mirrored along its length, its width, or both."""
    x, y = point
    return (150.0 - x if way[0] else x, 150.0 - y if way[1] else y)


def wood_of(picture: npt.NDArray[np.uint8]) -> npt.NDArray[np.bool_]:
    """Return which dots are dark outline: the middle of the page."""
    dark = picture < DARK
    edge = int(WINDOW_MM / DOT_MM)
    frame = np.zeros_like(dark)
    frame[int(40.0 / DOT_MM) : -edge, : -int(14.0 / DOT_MM)] = True
    return dark & frame


def off_mm(
    dark: npt.NDArray[np.bool_], left: float, low: float, point: tuple[float, float]
) -> float:
    """Return how far the nearest dark dot is from where a point must be; 9 where none is near."""
    column, row = left + point[0] / DOT_MM, low - point[1] / DOT_MM
    reach = 8
    top, first = round(row) - reach, round(column) - reach
    near = dark[max(top, 0) : top + 2 * reach + 1, max(first, 0) : first + 2 * reach + 1]
    rows, columns = np.nonzero(near)
    if not len(rows):
        return 9.0
    away = np.hypot(rows + top - row, columns + first - column)
    return float(away.min()) * DOT_MM


def told_outline(part: Part) -> tuple[list[list[float]], list[float]]:
    """Return the outline of face A as plan.json has it."""
    return rounded_points(part.slab.face_a), vector(part.slab.face_a.bulges)


def outline_points(points: list[list[float]], bulges: list[float]) -> Iterator[tuple[float, float]]:
    """Yield points along an outline: a bulge is tan(angle / 4) of its arc."""
    for index, (start, bulge) in enumerate(zip(points, bulges, strict=True)):
        end = points[(index + 1) % len(points)]
        for step in range(20):
            share = step / 20
            if not bulge:
                yield (
                    start[0] + share * (end[0] - start[0]),
                    start[1] + share * (end[1] - start[1]),
                )
                continue
            sweep = 4 * math.atan(bulge)
            chord = complex(end[0] - start[0], end[1] - start[1])
            middle = complex(*start) + chord / 2 + chord * 1j / (2 * math.tan(sweep / 2))
            spoke = complex(*start) - middle
            at = middle + spoke * complex(math.cos(share * sweep), math.sin(share * sweep))
            yield (at.real, at.imag)
