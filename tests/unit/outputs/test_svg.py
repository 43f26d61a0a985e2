"""The SVG writer: what a file holds and how it looks in light and dark."""

import itertools
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

from generator.outputs.palette import DARK, LIGHT, Scheme, contrast
from generator.outputs.scene import Area, Arrowhead, Disc, Item, Scene, Stroke, Words
from generator.outputs.svg import write_svg
from generator.outputs.svg_path import format_number
from generator.outputs.svg_style import FILL_CLASS, LINE_CLASS
from generator.outputs.text_width import text_width_mm
from tests.svg_reader import Point, read_path

SVG = "{http://www.w3.org/2000/svg}"
COORDINATE = st.integers(-500, 9000).map(lambda hundredths: hundredths / 100)
SQUARE = ((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0))


def draw(*items: Item) -> ET.Element:
    scene = Scene(width_mm=100, height_mm=50, title="A", description="B & C", items=items)
    return ET.fromstring(write_svg(scene))


def test_a_drawing_has_the_size_of_its_paper_and_names_itself() -> None:
    root = draw()

    assert root.get("viewBox") == "0 0 100 50"
    assert (root.get("width"), root.get("height")) == ("378", "189")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == "t d"
    assert [e.text for e in root.iter() if e.get("id") in {"t", "d"}] == ["A", "B & C"]


def test_up_on_the_paper_is_up_in_the_file() -> None:
    root = draw(Stroke(points=((0.0, 0.0), (10.0, 50.0)), layer="outline"))

    path = root.find(f"{SVG}path")
    assert path is not None
    assert path.get("d") == "M0 50l10-50"


def test_neighbouring_strokes_of_a_layer_share_a_path() -> None:
    strokes = [Stroke(points=((0.0, y), (9.0, y)), layer="hidden") for y in (1.0, 2.0, 3.0)]
    root = draw(*strokes, Stroke(points=((0.0, 0.0), (9.0, 0.0)), layer="outline"))

    paths = root.findall(f"{SVG}path")
    assert [LINE_CLASS["hidden"], LINE_CLASS["outline"]] == [p.get("class") for p in paths]
    assert paths[0].get("d") == "M0 49h9M0 48h9M0 47h9"


def test_an_arc_that_turns_left_keeps_turning_left() -> None:
    # From (10, 0) a quarter turn left about (0, 0) ends at (0, 10); on the screen it runs
    # counter-clockwise, which SVG 1.1 section 8.3.8 calls sweep-flag 0.
    quarter = Stroke(points=((10.0, 0.0), (0.0, 10.0)), layer="outline", bulges=(0.41421356, 0.0))
    path = draw(quarter).find(f"{SVG}path")

    assert path is not None
    assert path.get("d") == "M10 50a10 10 0 0 0 -10-10"


def test_areas_of_one_tone_unite_and_holes_stay_open() -> None:
    hole = ((12.0, 12.0), (18.0, 12.0), (18.0, 18.0), (12.0, 18.0))
    overlapping = ((15.0, 5.0), (15.0, 15.0), (30.0, 15.0))
    root = draw(Area(rings=(SQUARE, hole), tone="wood"), Area(rings=(overlapping,), tone="wood"))

    paths = root.findall(f"{SVG}path")
    assert [FILL_CLASS["wood"]] == [p.get("class") for p in paths]
    assert [_turn(ring) for ring in read_path(str(paths[0].get("d")))] == [1, -1, 1]


def _turn(ring: list[Point]) -> int:
    """Return 1 for a ring that turns left on paper, -1 for one that turns right."""
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise(ring))
    return 1 if area < 0 else -1


def test_text_stays_text_and_is_escaped() -> None:
    root = draw(Words(at=(5.0, 5.0), text="3/4 < 1", anchor="middle", bold=True, angle_deg=90))

    text = root.find(f"{SVG}text")
    assert text is not None
    assert text.text == "3/4 < 1"
    assert text.get("class") == "m b"
    # Turned left about the corner of the sheet, (-45, 5) comes to (5, 45): 5 from below.
    assert text.get("transform") == "rotate(-90)"
    assert (text.get("x"), text.get("y")) == ("-45", "5")


def test_texts_of_one_look_share_a_group() -> None:
    texts = [Words(at=(5.0, y), text=f"{y:g}", anchor="end") for y in (5.0, 15.0, 25.0)]
    group = draw(*texts).find(f"{SVG}g")

    assert group is not None
    assert group.get("class") == "e"
    assert [text.text for text in group] == ["5", "15", "25"]


def test_what_looks_alike_is_gathered_where_nothing_between_is_covered() -> None:
    line = Stroke(points=((0.0, 5.0), (9.0, 5.0)), layer="cut")
    apart = Stroke(points=((0.0, 30.0), (9.0, 30.0)), layer="outline")
    crossing = Stroke(points=((5.0, 0.0), (5.0, 9.0)), layer="outline")

    assert [["cut", "outline"], ["cut", "outline", "cut"]] == [
        layers_of(draw(line, between, line)) for between in (apart, crossing)
    ]


def test_lines_of_one_colour_are_gathered_although_they_cross() -> None:
    line = Stroke(points=((0.0, 5.0), (9.0, 5.0)), layer="dimension")
    leader = Stroke(points=((5.0, 0.0), (5.0, 9.0)), layer="leader")

    assert LIGHT.lines["dimension"] == LIGHT.lines["leader"]
    assert layers_of(draw(line, leader, line)) == ["dimension", "leader"]


def layers_of(root: ET.Element) -> list[str]:
    layers = {name: str(layer) for layer, name in LINE_CLASS.items()}
    return [layers[str(path.get("class"))] for path in root.findall(f"{SVG}path")]


def test_many_equal_circles_are_markers_along_a_path_and_few_are_circles() -> None:
    discs = [Disc(center=(10.0 * i, 5.0), radius_mm=0.7, layer="screw") for i in range(1, 6)]
    few, many = draw(*discs[:3]), draw(*discs)

    assert [circle.get("cx") for circle in few.findall(f"{SVG}circle")] == ["10", "20", "30"]
    marker, path = many.find(f"{SVG}marker"), many.find(f"{SVG}path")
    assert marker is not None
    assert path is not None
    assert path.get("style") == f"marker:url(#{marker.get('id')})"
    assert read_path(str(path.get("d"))) == [[(10.0 * i, 45.0) for i in range(1, 6)]]


@given(
    st.lists(
        st.lists(st.tuples(COORDINATE, COORDINATE), min_size=2, max_size=6, unique=True),
        min_size=1,
        max_size=5,
    )
)
def test_short_path_data_reads_back_as_the_points_that_were_drawn(
    lines: list[list[tuple[float, float]]],
) -> None:
    strokes = [Stroke(points=tuple(line), layer="outline") for line in lines]
    path = draw(*strokes).find(f"{SVG}path")

    assert path is not None
    assert read_path(str(path.get("d"))) == [
        [(x, round(50 - y, 2)) for x, y in line] for line in lines
    ]


def test_only_styles_in_use_are_written_once_for_light_and_once_for_dark() -> None:
    scene = Scene(
        width_mm=10, height_mm=10, title="", description="",
        items=(Disc(center=(5, 5), radius_mm=1, tone="bubble", layer="leader"),),
    )  # fmt: skip
    text = write_svg(scene)

    assert text.count("prefers-color-scheme:dark") == 1
    assert LIGHT.lines["leader"] in text
    assert DARK.lines["leader"] in text
    assert LIGHT.lines["cut"] not in text


def test_an_arrowhead_points_where_it_should() -> None:
    path = draw(Arrowhead(at=(30.0, 10.0), direction=(2.0, 0.0))).find(f"{SVG}path")

    assert path is not None
    assert path.get("d") == "M30 40l-2.5-.4v.8z"


def test_the_same_scene_gives_the_same_bytes() -> None:
    scene = Scene(
        width_mm=10, height_mm=10, title="a", description="b",
        items=(Area(rings=(SQUARE,), tone="top"), Stroke(points=SQUARE, layer="cut", closed=True)),
    )  # fmt: skip

    assert write_svg(scene) == write_svg(scene)


@pytest.mark.parametrize(
    ("hundredths", "text"), [(0, "0"), (100, "1"), (-50, "-.5"), (1234, "12.34"), (-110, "-1.1")]
)
def test_numbers_are_as_short_as_they_go(hundredths: int, text: str) -> None:
    assert text == format_number(hundredths)


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_colours_have_the_contrast_that_wcag_asks_for(scheme: Scheme) -> None:
    # WCAG 2.2, 1.4.3 (text, 4.5:1) and 1.4.11 (graphics, 3:1).
    backgrounds = [scheme.paper] + [c for t, c in scheme.tones.items() if t != "screw"]
    strong = [scheme.lines[layer] for layer in scheme.lines if layer not in {"quiet", "frame"}]

    assert min(contrast(scheme.text, b) for b in backgrounds) >= 4.5
    assert min(contrast(line, scheme.paper) for line in scheme.lines.values()) >= 3
    assert min(contrast(line, b) for line in strong for b in backgrounds) >= 3


def test_contrast_agrees_with_the_extremes_of_the_standard() -> None:
    # WCAG 2.2: black on white is 21:1, a colour on itself 1:1.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == 1


@pytest.mark.parametrize("bold", [False, True])
def test_text_is_as_wide_as_the_drawn_glyphs(bold: bool) -> None:
    # The reference draws the outlines of the letters; side bearings may differ by a hair.
    font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    text = "34 1/2 in × 760 mm"
    drawn = TextPath((0, 0), text, size=10, prop=font).get_extents().width

    assert text_width_mm(text, 10, bold) == pytest.approx(drawn, abs=2)
