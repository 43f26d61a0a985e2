"""The law: no order of the cuts needs fewer settings than the plan says, and none that it asks."""

import random
from collections import deque
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.cutting.fewest_settings import Chain, find_fewest, find_settings_bound
from generator.cutting.layouts import NestedSheet, make_layout, number_cuts
from generator.cutting.order import find_tasks, order_tasks
from generator.cutting.trees import Axis, Box, Leaf, Node, Split, ticks
from generator.model.cutting import Blank, Cutting
from tests.plain_parts import make_stock
from tests.sawing import read_sawing
from tests.simulator import Step, work

KERF_MM = 3.0
LENGTH_MM, WIDTH_MM = 2440.0, 1220.0
CASES = 50
MOST_CUTS = 22
"""More than this many cuts take the search through all orders too long."""


def _draw_tree(dice: random.Random, box: Box, depth: int, sizes: Sequence[int]) -> Node:
    """Return a sheet cut into pieces of a few sizes that come again and again."""
    axis: Axis = dice.choice(("x", "y"))
    room = box.extent(axis)
    if depth == 0 or dice.random() < 0.15:
        return Leaf(box, 0)
    children: list[Node] = []
    start = 0
    while len(children) < 3 and (size := ticks(dice.choice(sizes))) < room - start:
        children.append(_draw_tree(dice, box.slice(axis, start, size), depth - 1, sizes))
        start += size
        if dice.random() < 0.3:
            break
    if not children:
        return Leaf(box, 0)
    return Split(box, axis, (*children, Leaf(box.slice(axis, start, room - start), None)))


def _draw_trees(seed: int) -> list[Node]:
    dice = random.Random(seed)
    whole = Box(0, 0, ticks(LENGTH_MM + KERF_MM), ticks(WIDTH_MM + KERF_MM))
    while True:
        sizes = dice.sample(range(40, 700, 10), 5)
        trees = [_draw_tree(dice, whole, 3, sizes) for _ in range(dice.randint(1, 3))]
        if 8 <= len(find_tasks(trees, ticks(KERF_MM))) <= MOST_CUTS:
            return trees


def _steps(trees: Sequence[Node]) -> tuple[list[Step], int, int]:
    """Return the cuts of a plan as they are made, its settings and its bound."""
    stock = make_stock([(LENGTH_MM, WIDTH_MM)])
    size = stock.goods.sizes[0]
    blank = Blank(label="A", count=99, length_mm=1, width_mm=1, allowance_mm=(0, 0, 0, 0))
    sheets = [
        NestedSheet(number=i, stock=stock, size=size, trim_mm=0, tree=tree, blanks=(blank,))
        for i, tree in enumerate(trees, start=1)
    ]
    sawn = number_cuts(sheets, ticks(KERF_MM))
    layouts = tuple(
        make_layout(sheet, cuts, KERF_MM, {}, "metric")
        for sheet, cuts in zip(sheets, sawn.cuts, strict=True)
    )
    plan = Cutting(blanks=(), layouts=layouts, settings=sawn.settings, needs=())
    steps = work(read_sawing(plan)).steps
    return [step for step in steps if step.kind != "trim"], len(sawn.settings), sawn.bound


def _least_settings(steps: Sequence[Step]) -> int:
    """Go through all orders of single cuts, fewest changes of the setting first."""
    names = [(step.kind, round(step.value_mm, 2)) for step in steps]
    places = {step.order: place for place, step in enumerate(steps)}
    needs = [1 << places[step.after] if step.after else 0 for step in steps]
    everything = (1 << len(steps)) - 1
    waiting: deque[tuple[int, int, tuple[str, float]]] = deque([(0, 0, ("", 0.0))])
    seen: set[tuple[int, tuple[str, float]]] = set()
    while waiting:
        changes, done, name = waiting.popleft()
        if done == everything:
            return changes
        if (done, name) in seen:
            continue
        seen.add((done, name))
        for place, other in enumerate(names):
            if not done >> place & 1 and done & needs[place] == needs[place]:
                following = (changes + (other != name), done | 1 << place, other)
                if other == name:
                    waiting.appendleft(following)
                else:
                    waiting.append(following)
    raise AssertionError


@pytest.mark.parametrize("seed", range(CASES))
def test_the_settings_are_as_few_as_in_the_best_of_all_orders(seed: int) -> None:
    steps, count, bound = _steps(_draw_trees(seed))

    assert _least_settings(steps) == count
    assert count == bound


def test_the_seeded_cases_are_hard_enough_that_the_quick_order_fails_in_some() -> None:
    worse = 0
    for seed in range(CASES):
        trees = _draw_trees(seed)
        worse += len(order_tasks(find_tasks(trees, ticks(KERF_MM)))) > _steps(trees)[1]

    assert worse >= CASES // 10


CHAINS = st.lists(
    st.lists(st.integers(0, 3), max_size=5).map(
        lambda row: tuple(
            one for one, before in zip(row, [-1, *row], strict=False) if one != before
        )
    ),
    max_size=5,
)


def _shortest(chains: Sequence[Chain]) -> int:
    """Lengthen every list by every setting until one holds all chains."""
    front, length = {tuple(chains)}, 0
    while not any(all(not chain for chain in state) for state in front):
        length += 1
        front = {
            tuple(chain[1:] if chain[:1] == (setting,) else chain for chain in state)
            for state in front
            for setting in range(4)
        }
    return length


@settings(max_examples=300, deadline=None, derandomize=True)
@given(CHAINS)
def test_the_list_is_the_shortest_that_every_chain_can_follow(chains: list[Chain]) -> None:
    known = tuple(setting for chain in chains for setting in chain)
    least = _shortest(chains)
    fewest = find_fewest(chains, known)

    assert least == len(fewest.settings) == fewest.bound
    assert least >= find_settings_bound(chains)
    for chain in chains:
        rest = iter(fewest.settings)
        assert all(setting in rest for setting in chain)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(CHAINS, st.integers(0, 3))
def test_a_search_that_is_cut_short_still_gives_a_list_and_a_true_bound(
    chains: list[Chain], effort: int
) -> None:
    known = tuple(setting for chain in chains for setting in chain)
    fewest = find_fewest(chains, known, effort)

    assert fewest.bound <= _shortest(chains) <= len(fewest.settings) <= len(known)
