"""What the pages say of settings and of heavy sheets."""

from dataclasses import replace

import pytest

from generator.model.cutting import Lifting, SettingsNeed
from generator.model.plan import Plan
from generator.telling.cutting_tables import layout_words, lifting_words, settings_words
from tests.samples import sample_plan


def _plan(need: SettingsNeed | None = None, lifting: Lifting | None = None) -> Plan:
    plan = sample_plan("metric")
    cutting = plan.cutting
    need = need or cutting.settings_need
    return replace(plan, cutting=replace(cutting, settings_need=need, lifting=lifting))


@pytest.mark.parametrize(
    ("settings", "bound", "words"),
    [
        (6, 6, "Settings 1 to 6 saw the sheets into blanks: no order of these cuts needs fewer."),
        (
            6,
            4,
            "Settings 1 to 6 saw the sheets into blanks: the fewest that were found, at most 2 "
            "more than some other order of these cuts may need.",
        ),
        (1, 1, "Setting 1 saws the sheets into blanks: no order of these cuts needs fewer."),
        (0, 0, ""),
    ],
)
def test_a_page_says_whether_fewer_settings_could_do(settings: int, bound: int, words: str) -> None:
    assert words == settings_words(_plan(SettingsNeed(settings=settings, bound=bound)))


def test_a_caption_says_what_the_sheet_weighs() -> None:
    plan = _plan()
    (layout,) = plan.cutting.layouts
    volume = layout.size.length_mm * layout.size.width_mm * layout.stock.thickness_mm / 1e9
    mass = volume * layout.stock.material.density_kg_m3

    assert mass == pytest.approx(layout.mass_kg)
    assert f", about {mass:.1f} kg." in layout_words(plan, layout)


def test_a_sheet_that_one_person_can_lift_gets_no_words() -> None:
    mass = _plan().cutting.layouts[0].mass_kg

    assert lifting_words(_plan(lifting=Lifting(limit_kg=mass + 0.1, piece_kg=mass))) == ""
    assert lifting_words(_plan(lifting=None)) == ""


def test_a_heavy_sheet_is_for_two_and_so_are_its_pieces_if_they_are_heavy() -> None:
    light = lifting_words(_plan(lifting=Lifting(limit_kg=5.0, piece_kg=4.0)))
    heavy = lifting_words(_plan(lifting=Lifting(limit_kg=5.0, piece_kg=6.0)))

    assert light.startswith("A sheet of more than 5 kg is carried by two people.")
    assert light.endswith("weighs about 4 kg.")
    assert heavy.endswith("weighs about 6 kg; lift that with two as well.")
