"""Whatever a router is to cut: every outline is there once, and no two are nearer than the bit.

Distances are shapely's, between outlines flattened here a hundred times finer than the search does.
"""

import itertools
from collections import Counter
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from generator.cutting import plan_cutting
from generator.geometry.outlines import Outline
from generator.geometry.slabs import Slab
from generator.model.cutting import Cutting, RouterLayout
from generator.model.edition import Grain, Stock
from generator.model.parts import Part, Parts
from generator.model.workshop import RouterWork
from tests.plain_parts import Line, make_parts, make_saw, make_stock

ROUTER = RouterWork(bit_mm=6.0, apart_mm=6.0, border_mm=0.0)
GRAINS: st.SearchStrategy[Grain] = st.sampled_from(["along", "either"])
SIZES = st.integers(min_value=40, max_value=580).map(float)
FINE_MM = 0.005
CASES = settings(max_examples=25, deadline=None, derandomize=True)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Parts, tuple[Stock, ...]]:
    """Draw up to five parts, some with a round end, a corner off, or a hollow side."""
    stock = make_stock([(1220.0, 620.0)], trim_mm=draw(st.sampled_from([0.0, 3.0, 10.0])))
    lines = [
        Line(
            label=f"P{index}",
            count=draw(st.integers(min_value=1, max_value=3)),
            length_mm=draw(SIZES),
            width_mm=draw(SIZES),
            grain=draw(GRAINS),
        )
        for index in range(draw(st.integers(min_value=1, max_value=5)))
    ]
    parts = make_parts(lines, (stock,))
    shaped = tuple(
        _shaped(part, draw(st.integers(min_value=0, max_value=3))) for part in parts.parts
    )
    return replace(parts, parts=shaped), (stock,)


def _shaped(part: Part, form: int) -> Part:
    length, width = part.length_mm, part.width_mm
    half = length / 2
    outlines = {
        0: Outline(((0, 0), (length, 0), (length, width), (0, width))),
        1: Outline(((0, 0), (half, 0), (length, width / 2), (half, width), (0, width))),
        2: Outline(
            ((0, 0), (length, 0), (length, width), (half, width * 0.3), (0, width)),
        ),
        3: Outline(
            ((0, 0), (length, 0), (length, width), (0, width)), (0.0, 0.0, -0.3 * width / length, 0)
        )
        if width < length
        else Outline(((0, 0), (length, 0), (length, width), (0, width))),
    }
    outline = outlines[form]
    return replace(part, slab=Slab(outline, outline, 18.0))


def _route(job: tuple[Parts, tuple[Stock, ...]]) -> Cutting:
    cutting, problems = plan_cutting(*job, make_saw(3.2), "metric", router=ROUTER)
    assert problems == ()
    assert cutting is not None
    return cutting


def _polygons(layout: RouterLayout) -> list[Polygon]:
    return [Polygon(one.outline.flattened(FINE_MM)) for one in layout.placements]


@CASES
@given(jobs())
def test_no_two_outlines_are_nearer_than_the_bit_and_none_is_nearer_to_the_border(
    job: tuple[Parts, tuple[Stock, ...]],
) -> None:
    for layout in _route(job).router:
        placed = _polygons(layout)
        for one, other in itertools.combinations(placed, 2):
            assert layout.bit_mm <= one.distance(other)
        for one in placed:
            low_x, low_y, high_x, high_y = one.bounds
            assert layout.border_mm - 1e-6 <= min(low_x, low_y)
            assert layout.size.length_mm - layout.border_mm + 1e-6 >= high_x
            assert layout.size.width_mm - layout.border_mm + 1e-6 >= high_y
            assert layout.bit_mm <= layout.border_mm


@CASES
@given(jobs())
def test_every_copy_lies_once_and_as_its_grain_allows(
    job: tuple[Parts, tuple[Stock, ...]],
) -> None:
    cutting = _route(job)
    placed = [one for layout in cutting.router for one in layout.placements]
    expected = Counter(
        {
            (part.label, copy): 1
            for part in job[0].parts
            if part.label not in cutting.not_routed
            for copy in range(1, part.count + 1)
        }
    )

    assert expected == Counter((one.label, one.copy) for one in placed)
    assert cutting.not_routed == ()
    for one in placed:
        part = job[0].part(one.label)
        turns = {0.0, 180.0} if part.grain == "along" else {0.0, 90.0, 180.0, 270.0}
        assert one.turn_deg in turns
        assert part.slab.face_a.area_mm2 - 1e-6 <= one.outline.area_mm2
