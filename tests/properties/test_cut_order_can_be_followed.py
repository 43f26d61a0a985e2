"""The law: whoever makes the cuts in their order, setting by setting, has every part in the end."""

import random
from collections.abc import Sequence

import pytest

from generator.cutting import plan_cutting
from generator.model.cutting import Cutting
from generator.model.edition import Grain, Stock
from generator.model.parts import Parts
from tests.other_blade import find_wrong_parts
from tests.plain_parts import Line, make_board, make_parts, make_saw, make_stock
from tests.sawing import read_sawing
from tests.simulator import work

GRAINS: tuple[Grain, ...] = ("along", "either")
SHEETS = ((2440.0, 1220.0), (1220.0, 1220.0))
BOARDS = (1800.0, 2400.0)
BLOCKS = 8
PLANS_IN_A_BLOCK = 25


def _draw_line(dice: random.Random, index: int, stock: str) -> Line:
    step = dice.choice([0.1, 1.0, 25.0])
    width = 20.0 + step * dice.randrange(round(580 / step))
    return Line(
        label=f"P{index}",
        count=dice.randint(1, 5),
        length_mm=round(60.0 + step * dice.randrange(round(1100 / step)), 1),
        width_mm=round(min(width, 89.0) if stock == "board" else width, 1),
        grain=dice.choice(GRAINS),
        stock=stock,
    )


def draw_job(seed: int) -> tuple[Parts, tuple[Stock, ...], float]:
    """Return up to six kinds of parts from two sheets and a board, and a kerf."""
    dice = random.Random(seed)
    trim = dice.choice([0.0, 6.0])
    stocks = (
        make_stock(SHEETS[: dice.randint(1, 2)], trim_mm=trim),
        make_stock(SHEETS, name="back", trim_mm=4.0, has_grain=False),
        make_board(BOARDS, trim_mm=dice.choice([0.0, 10.0])),
    )
    lines = [
        _draw_line(dice, index, dice.choice(["panel", "panel", "back", "board"]))
        for index in range(dice.randint(1, 6))
    ]
    return make_parts(lines, stocks), stocks, dice.choice([0.0, 1.6, 3.2])


def _cut(parts: Parts, stocks: Sequence[Stock], kerf: float) -> Cutting:
    cutting, problems = plan_cutting(parts, tuple(stocks), make_saw(kerf), "metric")
    assert problems == ()
    assert cutting is not None
    return cutting


@pytest.mark.parametrize("block", range(BLOCKS))
def test_two_hundred_plans_are_sawn_cut_by_cut_into_their_parts(block: int) -> None:
    for seed in range(block * PLANS_IN_A_BLOCK, (block + 1) * PLANS_IN_A_BLOCK):
        parts, stocks, kerf = draw_job(seed)
        cutting = _cut(parts, stocks, kerf)
        shop = work(read_sawing(cutting, parts))

        assert [] == shop.faults, seed
        assert sum(part.count for part in parts.parts) == shop.parts.total(), seed
        sets = {step.setting for step in shop.steps}
        assert len(sets) == cutting.settings_need.settings, seed


@pytest.mark.parametrize("block", range(BLOCKS))
def test_layouts_hold_with_another_blade_exactly_if_every_part_comes_out_right(block: int) -> None:
    for seed in range(block * PLANS_IN_A_BLOCK, (block + 1) * PLANS_IN_A_BLOCK):
        parts, stocks, kerf = draw_job(seed)
        cutting = _cut(parts, stocks, kerf)
        plan = read_sawing(cutting, parts)

        assert [] == find_wrong_parts(plan, kerf), seed
        for saw in cutting.other_saws:
            assert saw.holds == (not find_wrong_parts(plan, saw.kerf_mm)), (seed, saw.kerf_mm)


@pytest.mark.parametrize("block", range(2))
def test_what_is_lifted_weighs_what_the_plan_says(block: int) -> None:
    for seed in range(block * PLANS_IN_A_BLOCK, (block + 1) * PLANS_IN_A_BLOCK):
        parts, stocks, kerf = draw_job(seed)
        cutting = _cut(parts, stocks, kerf)
        lifted = work(read_sawing(cutting, parts)).lifted_mm2()
        sheets = [f"sheet {layout.number}" for layout in cutting.layouts]
        kg_mm2 = 18.0 * 600.0 / 1e9

        if sheets and all(name in lifted for name in sheets):
            assert cutting.lifting is not None
            heaviest = max(lifted[name] for name in sheets) * kg_mm2
            assert heaviest == pytest.approx(cutting.lifting.piece_kg), seed
