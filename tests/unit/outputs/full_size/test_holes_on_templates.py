"""Holes on templates, measured on the printed page from the edges that it names."""

import itertools
import json
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.plan import Plan
from generator.model.work import find_work
from generator.outputs.booklet.paper import PAPERS
from generator.outputs.face_paper import find_paper
from generator.outputs.full_size.draw_spots import find_shown
from generator.outputs.full_size.shapes import Shape, find_shape
from generator.outputs.full_size.spots import Spot
from generator.outputs.full_size.templates import draw_templates, templates_pdf
from generator.outputs.full_size.tiles import choose_tiles
from generator.outputs.hole_table import HoleRow, find_hole_rows
from generator.outputs.part_view import find_view
from generator.outputs.plan_json import plan_json
from generator.outputs.scene_check import find_text_faults
from generator.units import SYSTEMS, System
from tests.demo_plans import demo_plan
from tests.little_designs import parts_of, plan_of
from tests.pdf_reader import MM_PER_POINT, Pdf, Word

DPI = 400
DOT_MM = 25.4 / DPI
DARK = 60
"""Outlines are darker, all other lines are not."""
PALE = 100
"""Rims of holes are paler, crosses are not."""
ALLOWED_MM = 0.2
BESIDE_MM = 6.0
"""From the name of an edge to its line, at most."""
LETTER_MM = 14.0
"""From the middle of a hole to its letter, at most."""

BORED = """
parts:
  side:
    from: panel
    length: 160 mm
    width: 140 mm
    runs: {length: up, width: back}
    corners: {top front: round 40 mm}
    pins:
      - {hole: 5 mm, deep: 8 mm, pitch: 32 mm, in: inside, along: up, from bottom: 50 mm,
         from back: 25 mm, count: 3}
    at:
      left: {}
      right: {mirrors: left, across: {right: 200 mm}}
  floor:
    from: panel
    width: 140 mm
    runs: {length: right, width: back}
    edges: {left: against side.left, right: against side.right}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 80 mm]
    width: 100 mm
    runs: {length: right, width: back}
    edges: {left: into side.left by 6 mm, right: into side.right by 6 mm}
joints:
  - {join: side to floor, with: face screws}
  - {join: shelf to side, with: glue}
steps:
  - {title: All, fit: "side, floor, shelf"}
"""
"""Sides with pins in one face and screws from the other; in mm they take two sheets each."""

MIRRORED = """
parts:
  bracket:
    from: panel
    length: 150 mm
    width: 120 mm
    runs: {length: up, width: back}
    corners: {bottom back: clip 60 mm up by 60 mm front}
    at:
      left: {}
      right: {corner: [300 mm, 0 mm, 0 mm]}
  shelf:
    from: panel
    corner: [0 mm, 0 mm, 150 mm]
    length: 318 mm
    width: 120 mm
    runs: {length: right, width: back}
joints:
  - {join: bracket.left to shelf, with: pocket screws, pockets: right}
  - {join: bracket.right to shelf, with: pocket screws, pockets: left}
steps:
  - {title: All, fit: "bracket, shelf"}
"""


@dataclass(frozen=True, slots=True)
class Line:
    """A named edge on a page: where it is along one axis of the paper, and the way to the wood."""

    axis: int
    at_mm: float
    sign: int


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page of a template."""

    label: str
    picture: npt.NDArray[np.uint8]
    words: list[Word]
    lines: dict[str, Line]


@cache
def plan(text: str, system: System) -> Plan:
    return plan_of(text, system)


@pytest.fixture(scope="module", params=SYSTEMS)
def printed(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> tuple[Plan, list[Sheet]]:
    made = plan(BORED, request.param)
    return made, list(sheets_of(print_pdf(made, tmp_path_factory.mktemp(request.param)), made))


def print_pdf(made: Plan, folder: Path) -> Pdf:
    path = folder / "templates.pdf"
    path.write_bytes(templates_pdf(made) or b"")
    return Pdf(path)


def sheets_of(pdf: Pdf, made: Plan) -> Iterator[Sheet]:
    """Yield the pages at full size, which are headed ``A  Side: template, tile 1 of 2``."""
    told = json.loads(plan_json(made))["parts"]
    for number, words in enumerate(pdf.words(), start=1):
        if "template," in [word.text for word in words]:
            picture = pdf.lines(number, DPI)
            part = next(one for one in told if one["label"] == words[0].text)
            names = {f"{edge['name']} {edge['kind']}" for edge in part["edges"]}
            yield Sheet(words[0].text, picture, words, find_lines(picture, words, names))


def find_lines(
    picture: npt.NDArray[np.uint8], words: list[Word], names: set[str]
) -> dict[str, Line]:
    """Return the edges whose names stand beside them: the nearest dark line across from each."""
    found: dict[str, Line] = {}
    for one, two in itertools.pairwise(words):
        name = f"{one.text} {two.text}"
        is_upright = abs(two.top - one.top) > abs(two.left - one.left)
        x, y = middle_mm(one)
        if name in names and y > 36.0:
            axis = 0 if is_upright else 1
            across = picture[round(y / DOT_MM), :] if is_upright else picture[:, round(x / DOT_MM)]
            found[name] = nearest_line(across < DARK, (x, y)[axis], axis)
    return found


def nearest_line(dark: npt.NDArray[np.bool_], at_mm: float, axis: int) -> Line:
    first, reach = round(at_mm / DOT_MM), round(BESIDE_MM / DOT_MM)
    near = np.flatnonzero(dark[first - reach : first + reach]) + first - reach
    assert len(near), ("no line beside the name of an edge", at_mm, axis)
    sign = 1 if near.mean() > first else -1
    return Line(axis, float(near.mean() + 0.5) * DOT_MM, sign)


def middle_mm(word: Word) -> tuple[float, float]:
    return (
        (word.left + word.right) / 2 * MM_PER_POINT,
        (word.top + word.bottom) / 2 * MM_PER_POINT,
    )


def expected_mm(sheet: Sheet, part: dict[str, Any], hole: dict[str, Any]) -> list[float] | None:
    """Return where a hole of plan.json must be on a page, from its named edges; x to the right."""
    at: dict[int, float] = {}
    for edge in part["edges"]:
        line = sheet.lines.get(f"{edge['name']} {edge['kind']}")
        if line is not None:
            (x0, y0), (x1, y1) = edge["from"], edge["to"]
            x, y = hole["at_mm"][:2]
            off = abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / math.dist((x0, y0), (x1, y1))
            at.setdefault(line.axis, line.at_mm + line.sign * off)
    return [at[0], at[1]] if len(at) == 2 else None


def cross_mm(picture: npt.NDArray[np.uint8], near: list[float]) -> tuple[float, float] | None:
    """Return the middle of the cross at a place: of dark dots in its arms, 1 mm around them."""
    dark = picture < PALE
    middle = [round(value / DOT_MM) for value in near]
    inner, outer, aside = (round(mm / DOT_MM) for mm in (1.2, 3.6, 1.0))
    found = []
    for axis in (0, 1):
        column, row = middle
        turned = dark if axis == 0 else dark.T
        along, across = (row, column) if axis == 0 else (column, row)
        strips = [
            turned[start:stop, across - aside : across + aside + 1]
            for start, stop in ((along - outer, along - inner), (along + inner, along + outer))
        ]
        if any(strip.any(axis=1).mean() < 0.4 for strip in strips):
            return None
        columns = np.concatenate([np.nonzero(strip)[1] for strip in strips])
        found.append((across - aside + float(columns.mean()) + 0.5) * DOT_MM)
    return (found[0], found[1])


def table_of(made: Plan, label: str) -> tuple[HoleRow, ...]:
    """Return the table of holes of the part drawing."""
    part = made.parts.part(label)
    (work, *_) = find_work(made, part)
    paper = find_paper(part, find_view(part, "A"), work)
    return find_hole_rows(made, (paper, replace(paper, view=find_view(part, "B"))), work)


def test_every_hole_is_on_a_page_where_plan_json_has_it(printed: tuple[Plan, list[Sheet]]) -> None:
    """Within 0.2 mm, measured from the edges that are named on the page."""
    made, sheets = printed
    worst, seen = 0.0, 0
    for part in json.loads(plan_json(made))["parts"]:
        mine = [sheet for sheet in sheets if sheet.label == part["label"]]
        bored = [hole for hole in part["holes"] if mine and hole["kind"] != "pilot"]
        for hole in bored:
            places = [(sheet, expected_mm(sheet, part, hole)) for sheet in mine]
            crosses = [
                (cross, at)
                for sheet, at in places
                if at is not None and (cross := cross_mm(sheet.picture, at)) is not None
            ]
            assert crosses, hole
            seen += 1
            worst = max(worst, *(math.dist(cross, at) for cross, at in crosses))

    assert 2 * (3 + 2) == seen
    assert worst <= ALLOWED_MM


def test_every_hole_has_the_letter_of_the_part_drawing_beside_it(
    printed: tuple[Plan, list[Sheet]],
) -> None:
    made, sheets = printed
    for part in json.loads(plan_json(made))["parts"]:
        for row in table_of(made, part["label"]) if part["outline_mm"][4:] else ():
            for hole in row.holes:
                beside = []
                for sheet in (one for one in sheets if one.label == part["label"]):
                    at = expected_mm(sheet, part, {"at_mm": hole.at})
                    if at is not None and cross_mm(sheet.picture, at) is not None:
                        beside.append(nearest_letter(sheet, at))

                assert {row.letter} == set(beside)


def nearest_letter(sheet: Sheet, at: list[float]) -> str:
    """Return the single small letter nearest to a place, of those that are near enough."""
    found = [
        (math.dist(middle_mm(word), at), word.text)
        for word in sheet.words
        if len(word.text) == 1 and word.text.islower()
    ]
    away, letter = min(found)
    return letter if away < LETTER_MM else ""


def test_a_page_says_how_holes_are_bored_what_lands_and_which_channel_is_cut(
    printed: tuple[Plan, list[Sheet]],
) -> None:
    made, sheets = printed
    system = made.edition.system
    pins = {"metric": "shelf pin, 5 mm bit, 8 mm deep", "imperial": "shelf pin, 13/64 in bit"}
    deep = {"metric": "stopped dado for D, 6 mm deep", "imperial": "stopped dado for D, 1/4 in"}
    for label in ("A", "B"):
        words = " ".join(w.text for one in sheets if one.label == label for w in one.words)

        assert pins[system] in words
        assert deep[system] in words
        assert "C lands here" in words


def test_the_first_page_lists_every_row_of_the_table_with_its_tiles(
    printed: tuple[Plan, list[Sheet]], tmp_path: Path
) -> None:
    made, _ = printed
    text = print_pdf(made, tmp_path).text()

    for label in ("A", "B"):
        for row in table_of(made, label):
            assert f"{row.letter} {row.bore}" in text
    assert "Where" in text
    assert "tile 1" in text


def test_holes_of_the_other_face_are_dashed(printed: tuple[Plan, list[Sheet]]) -> None:
    """Pins are bored from the face that is seen, screws from the other one."""
    made, sheets = printed
    part = json.loads(plan_json(made))["parts"][0]
    shares: dict[str, list[float]] = {"pin": [], "clearance": []}
    for sheet in (one for one in sheets if one.label == part["label"]):
        for hole in (one for one in part["holes"] if one["kind"] in shares):
            at = expected_mm(sheet, part, hole)
            if at is not None and cross_mm(sheet.picture, at) is not None:
                shares[hole["kind"]].append(inked_share(sheet.picture, at))

    assert min(shares["pin"]) > 0.95
    assert max(shares["clearance"]) < 0.85


def inked_share(picture: npt.NDArray[np.uint8], at: list[float]) -> float:
    """Return how much of the level arms of a cross is dark."""
    column, row = (round(value / DOT_MM) for value in at)
    reach = round(3.8 / DOT_MM)
    strip = picture[row - 3 : row + 4, column - reach : column + reach] < PALE
    return float(strip.any(axis=0).mean())


def test_copies_of_the_other_hand_take_the_same_sheet_turned_over(tmp_path: Path) -> None:
    made = plan(MIRRORED, "metric")
    text = print_pdf(made, tmp_path).text()

    assert "Seen on the right face of bracket left." in text
    assert "Mirror image for bracket right: printed side down on the left face" in text
    assert 1 == text.count("A Bracket: template, tile 1 of 1")
    assert "a Pockets in the right face" in text


@pytest.mark.parametrize("slug", ["cleat-wall", "entry-bench", "step-stool", "tool-tote"])
@pytest.mark.parametrize("system", SYSTEMS)
def test_no_text_of_a_sheet_lies_on_another_or_leaves_the_paper(slug: str, system: System) -> None:
    scenes = draw_templates(demo_plan(slug, system))

    assert scenes
    assert {} == {one.title: found for one in scenes if (found := find_text_faults(one))}


PLACES = st.lists(st.tuples(st.floats(0.0, 700.0), st.floats(0.0, 500.0)), min_size=1, max_size=12)
LONG = """
parts:
  top:
    from: panel
    length: 700 mm
    width: 500 mm
    runs: {length: right, width: back}
    corners: {back left: round 60 mm, front right: round 60 mm}
    at: {only: {corner: [0 mm, 0 mm, 0 mm]}}
"""


@cache
def long_shape(system: System) -> Shape:
    shape = find_shape(parts_of(LONG, system).parts[0])
    assert shape is not None
    return shape


@given(PLACES, st.floats(2.0, 30.0), st.sampled_from(SYSTEMS))
def test_a_cross_on_a_seam_is_whole_on_one_of_the_sheets(
    places: list[tuple[float, float]], wide: float, system: System
) -> None:
    shape = long_shape(system)
    spots = [Spot(at=at, letter="a", words="", halves=(wide / 2, wide / 2)) for at in places]
    bored, tiles = choose_tiles(shape, [spot.box for spot in spots], PAPERS[system])
    shown = [spot for tile in tiles for spot in find_shown(spots, tile)]

    assert all(spot in shown for spot in spots if bored.spots)
