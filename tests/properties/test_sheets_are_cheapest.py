"""The law: no choice of sheets is cheaper, within what there is, and less is never promised."""

from collections import Counter
from collections.abc import Sequence
from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting import plan_cutting
from generator.model.catalogue import SheetSize
from generator.model.cutting import Cutting
from generator.model.edition import Grain
from generator.problems import Problem
from tests.least_cost import find_least_cost
from tests.plain_parts import Line, make_parts, make_saw, make_size, make_stock, with_sizes
from tests.sawing import find_faults, read_sawing

KERF_MM, TRIM_MM = 3.0, 5.0
FULL, HALF, QUARTER = (1200.0, 600.0), (600.0, 600.0), (600.0, 300.0)
SMALL = settings(max_examples=25, deadline=None, derandomize=True)


def _cut(
    lines: Sequence[Line], sizes: Sequence[SheetSize], kerf: float = KERF_MM
) -> tuple[Cutting | None, tuple[Problem, ...]]:
    stock = with_sizes(make_stock([FULL], trim_mm=TRIM_MM), sizes)
    parts = make_parts(lines, [stock])
    cutting, problems = plan_cutting(parts, (stock,), make_saw(kerf), "metric", "quick")
    if cutting is not None:
        assert find_faults(read_sawing(cutting, parts)) == []
        _check_bill(cutting, sizes)
    return cutting, problems


def _check_bill(cutting: Cutting, sizes: Sequence[SheetSize]) -> None:
    """What is used is there, and the sum is that of the prices."""
    (need,) = cutting.needs
    used = Counter(layout.size for layout in cutting.layouts)
    prices = [0.0 if size.is_owned else size.price or 0.0 for size in used.elements()]
    assert all(size.at_most is None or used[size] <= size.at_most for size in sizes)
    assert set(used) <= set(sizes)
    assert sum(not size.is_owned for size in used.elements()) == need.sheets
    assert need.bound <= need.sheets
    if all(size.price is not None for size in sizes):
        assert need.cost is not None
        assert need.cost == pytest.approx(sum(prices))
        assert need.cost_bound is not None
        assert need.cost_bound <= need.cost + 1e-9
        assert need.proved_least == (need.cost_bound == need.cost)


GRAINS: st.SearchStrategy[Grain] = st.sampled_from(["along", "either"])
PRICES = st.integers(100, 6000).map(lambda cents: cents / 100)
LIMITS = st.sampled_from([None, None, 0, 1, 2])
OWNED = st.lists(
    st.tuples(st.integers(100, 700), st.integers(60, 400), st.integers(1, 2)), max_size=2
)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[list[Line], list[SheetSize]]:
    """Draw up to five pieces, three sizes with prices and limits, and up to two offcuts."""
    lines = [
        Line(
            label=f"P{index}",
            count=1,
            length_mm=float(draw(st.integers(60, 580))),
            width_mm=float(draw(st.integers(60, 580))),
            grain=draw(GRAINS),
        )
        for index in range(draw(st.integers(1, 5)))
    ]
    sizes = [make_size(*size, draw(PRICES), draw(LIMITS)) for size in (FULL, HALF, QUARTER)]
    sizes += [
        make_size(float(length), float(width), at_most=count, is_owned=True)
        for length, width, count in dict.fromkeys(draw(OWNED))
    ]
    return lines, sizes


def _least(lines: Sequence[Line], sizes: Sequence[SheetSize]) -> float:
    return find_least_cost(
        [(line.length_mm, line.width_mm, line.grain != "along") for line in lines],
        [
            ((s.length_mm - 2 * TRIM_MM, s.width_mm - 2 * TRIM_MM), s.price or 0.0, s.at_most)
            for s in sizes
        ],
        KERF_MM,
    )


@settings(max_examples=80, deadline=None, derandomize=True)
@given(jobs())
def test_a_few_pieces_cost_what_the_cheapest_of_all_ways_costs(
    job: tuple[list[Line], list[SheetSize]],
) -> None:
    cutting, problems = _cut(*job)
    least = _least(*job)

    if least == inf:
        assert cutting is None
        assert {problem.code for problem in problems} <= {"N101", "N104"}
        return
    assert problems == ()
    assert cutting is not None
    (need,) = cutting.needs
    assert least == pytest.approx(need.cost)
    assert need.cost_bound is not None
    assert need.cost_bound <= least + 1e-9


@st.composite
def longer_jobs(draw: st.DrawFn) -> list[Line]:
    """Draw up to six kinds of pieces with up to three copies each."""
    return [
        Line(
            label=f"P{index}",
            count=draw(st.integers(1, 3)),
            length_mm=float(draw(st.integers(80, 900))),
            width_mm=float(draw(st.integers(60, 500))),
            grain=draw(GRAINS),
        )
        for index in range(draw(st.integers(2, 6)))
    ]


def _cost(cutting: Cutting | None) -> tuple[float, float]:
    """Return what sheets cost, and what none can cost less than."""
    assert cutting is not None
    (need,) = cutting.needs
    assert need.cost is not None
    assert need.cost_bound is not None
    return need.cost, need.cost_bound


SOLD = (make_size(*FULL, 20.0), make_size(*HALF, 11.5), make_size(*QUARTER, 6.5))


@SMALL
@given(longer_jobs())
def test_several_sizes_never_cost_more_than_full_sheets_alone(lines: list[Line]) -> None:
    full, _ = _cost(_cut(lines, SOLD[:1])[0])
    every, bound = _cost(_cut(lines, SOLD)[0])

    assert every <= full
    assert bound <= every


@SMALL
@given(longer_jobs(), st.tuples(st.integers(200, 700), st.integers(150, 500)))
def test_an_offcut_that_is_there_never_makes_it_dearer(
    lines: list[Line], size: tuple[int, int]
) -> None:
    without, without_bound = _cost(_cut(lines, SOLD)[0])
    owned = make_size(float(size[0]), float(size[1]), at_most=1, is_owned=True)
    cost, bound = _cost(_cut(lines, [*SOLD, owned])[0])

    assert cost <= without
    assert bound <= without_bound


@SMALL
@given(longer_jobs(), st.integers(0, 2))
def test_a_sheet_more_at_the_shop_never_makes_it_dearer(lines: list[Line], limit: int) -> None:
    few = [SOLD[0], make_size(*HALF, 9.0, limit), SOLD[2]]
    more = [SOLD[0], make_size(*HALF, 9.0, limit + 1), SOLD[2]]
    cost_of_few, bound_of_few = _cost(_cut(lines, few)[0])
    cost_of_more, bound_of_more = _cost(_cut(lines, more)[0])

    assert cost_of_more <= cost_of_few
    assert bound_of_more <= bound_of_few


@SMALL
@given(longer_jobs(), st.sampled_from([0.5, 2.0]))
def test_a_wider_kerf_never_costs_less_than_is_proved(lines: list[Line], more: float) -> None:
    _, bound = _cost(_cut(lines, SOLD)[0])
    cost, _ = _cost(_cut(lines, SOLD, KERF_MM + more)[0])

    assert bound <= cost


@SMALL
@given(longer_jobs())
def test_without_prices_an_offcut_saves_sheets_and_never_costs_one(lines: list[Line]) -> None:
    plain = [make_size(*FULL), make_size(*HALF)]
    owned = make_size(640.0, 420.0, at_most=1, is_owned=True)
    before, _ = _cut(lines, plain)
    after, _ = _cut(lines, [*plain, owned])

    assert before is not None
    assert after is not None
    assert after.needs[0].cost is None
    assert after.needs[0].sheets <= before.needs[0].sheets
    assert after.needs[0].bound <= before.needs[0].bound
