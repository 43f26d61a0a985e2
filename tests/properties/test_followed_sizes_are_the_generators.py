"""What a page tells for a measured panel is what the generator computes for it, to 0.1 mm."""

import re
from dataclasses import replace

import pytest

from generator.build import build_plan
from generator.model.measured import MeasuredStock
from generator.pages.followed import split_text
from generator.thickness.sampling import Sample
from generator.thickness.together import find_text
from generator.units import SYSTEMS, System
from tests.followed_plans import DESIGNS, Followed, follow_demo, in_a_gap, random_thicknesses

TOLERANCE_MM = 0.1
ROW = re.compile(r'<tr id="cut-([a-z]+)">')


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("slug", DESIGNS)
def test_every_size_told_is_the_one_computed_anew(slug: str, system: System) -> None:
    followed = follow_demo(slug, system)
    measured, sampler = followed.measured, followed.sampler
    texts = {text.number: text for text in measured.texts}
    worst, seen = 0.0, 0
    for at in random_thicknesses(measured, 8, seed=len(slug)):
        if in_a_gap(measured, at):
            continue
        found = sampler.sample(at)
        assert isinstance(found, Sample), (at, found)
        for number, text in enumerate(found.texts):
            parts, kinds, values = split_text(text)
            if number in texts:
                told = find_text(texts[number], measured.stocks, at)
                assert told is not None
                words, sizes = (told[0].parts, told[0].kinds), told[1]
            else:
                planned = split_text(sampler.base().texts[number])
                words, sizes = planned[:2], planned[2]
            assert words == (parts, kinds), at
            for size, value in zip(sizes, values, strict=True):
                worst, seen = max(worst, abs(size - value)), seen + 1

    assert measured.stocks
    assert measured.texts
    assert seen > 500
    assert worst <= TOLERANCE_MM
    print(f"{slug}, {system}: {seen} sizes, worst {worst:.4f} mm")


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("slug", DESIGNS)
def test_parts_are_as_large_as_the_whole_generator_makes_them(slug: str, system: System) -> None:
    followed = follow_demo(slug, system)
    catalogue = followed.sampler.catalogue
    for at in random_thicknesses(followed.measured, 3, seed=len(slug) + 7):
        sheets = dict(catalogue.sheets)
        for stock, thickness in zip(followed.measured.stocks, at, strict=True):
            sheets[stock.key] = replace(sheets[stock.key], thickness_mm=thickness)
        plan, problems = build_plan(
            followed.sampler.design, replace(catalogue, sheets=sheets), system, routed=False
        )
        assert plan is not None, problems
        for part in plan.parts.parts:
            expected = (part.length_mm, part.width_mm)

            assert _told_sizes(followed, part.label, at) == pytest.approx(
                expected, abs=TOLERANCE_MM
            ), (part.label, at)


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_pieces_fill_the_range_but_for_a_step_where_a_choice_changes(system: System) -> None:
    for slug in DESIGNS:
        for stock in follow_demo(slug, system).measured.stocks:
            assert stock.pieces[0][0] == stock.least_mm
            assert stock.pieces[-1][1] == stock.most_mm
            assert _widest_gap(stock) <= TOLERANCE_MM + 1e-6
            assert stock.least_mm <= stock.planned_mm <= stock.most_mm


def _widest_gap(stock: MeasuredStock) -> float:
    borders = zip(stock.pieces, stock.pieces[1:], strict=False)
    return max((after[0] - before[1] for before, after in borders), default=0.0)


def _told_sizes(followed: Followed, label: str, at: tuple[float, ...]) -> tuple[float, float]:
    """Return length and width of a part as its row in the cut list tells them."""
    base = followed.sampler.base().texts
    texts = {text.number: text for text in followed.measured.texts}
    start = next(
        number
        for number, text in enumerate(base)
        if (row := ROW.fullmatch(text)) and row[1] == label.lower()
    )
    sizes: list[float] = []
    number = start
    while len(sizes) < 2:
        number += 1
        told = find_text(texts[number], followed.measured.stocks, at) if number in texts else None
        sizes += told[1] if told is not None else split_text(base[number])[2]
    return (sizes[0], sizes[1])
