"""Every drawing of every demo plan, read for what a reader could not read."""

import math
from pathlib import Path
from typing import Any

import pytest

from generator.model.artifacts import Artifacts
from generator.model.plan import Plan
from generator.outputs.booklet.paper import PAPERS
from generator.outputs.line_check import find_line_faults
from generator.outputs.plan_files import draw_pictures
from generator.outputs.plan_json import plan_to_dict
from generator.outputs.scene import Scene, Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.svg import write_svg
from generator.units import SYSTEMS
from tests.demo_plans import demo_plan
from tests.drawn_sizes import (
    Range,
    find_chain_faults,
    find_places_off_the_plan,
    find_scale_faults,
    find_table_faults,
    read_pair,
    read_size,
    sizes_of,
)
from tests.leaders import find_crossed_leaders

DESIGNS = sorted(Path("designs").glob("*/design.yml"))
CASES = [(path, system) for path in DESIGNS for system in SYSTEMS]
LARGEST_BYTES = 15_000
"""More than this takes a phone in a workshop too long."""
LARGEST_EXPLODED_BYTES = 30_000
"""The exploded view shows every face of every piece."""


@pytest.fixture(scope="module", params=CASES, ids=lambda case: f"{case[0].parent.name}-{case[1]}")
def plan(request: pytest.FixtureRequest) -> Plan:
    """Return one plan of the demo library."""
    path, system = request.param
    return demo_plan(path.parent.name, system)


@pytest.fixture(scope="module")
def drawn(plan: Plan) -> tuple[Artifacts, dict[str, Scene]]:
    """Return the list of the drawings of one plan, and the drawings by path."""
    return draw_pictures(plan)


@pytest.fixture(scope="module")
def scenes(drawn: tuple[Artifacts, dict[str, Scene]]) -> tuple[Scene, ...]:
    """Return all drawings of one plan."""
    return tuple(drawn[1].values())


@pytest.fixture(scope="module")
def told(plan: Plan) -> dict[str, Any]:
    """Return what plan.json says of one plan."""
    return plan_to_dict(plan)


def test_no_text_lies_over_another_leaves_the_sheet_or_is_too_small_when_printed(
    plan: Plan, scenes: tuple[Scene, ...]
) -> None:
    room = PAPERS[plan.edition.system].room
    faults = {
        scene.title: find_text_faults(scene, printed=room.scale_of(scene.width_mm, scene.height_mm))
        for scene in scenes
    }

    assert {scene.title: [] for scene in scenes} == faults


def test_no_line_runs_through_a_text_and_no_leaders_cross(scenes: tuple[Scene, ...]) -> None:
    faults = {scene.title: find_line_faults(scene) for scene in scenes}

    assert {scene.title: [] for scene in scenes} == faults


def test_every_size_of_a_part_is_as_long_as_drawn_at_the_scale_it_states(
    plan: Plan, drawn: tuple[Artifacts, dict[str, Scene]]
) -> None:
    artifacts, scenes = drawn
    sheets = [scenes[one.path] for _, pictures in artifacts.parts for one in pictures]
    whole = [sheet for sheet in sheets if not _is_shortened(sheet)]
    faults = {sheet.title: find_scale_faults(sheet, plan.edition.system) for sheet in whole}

    assert {sheet.title: [] for sheet in whole} == faults


def test_every_size_of_a_part_is_the_distance_of_two_of_its_points_in_the_plan(
    drawn: tuple[Artifacts, dict[str, Scene]], told: dict[str, Any]
) -> None:
    artifacts, scenes = drawn
    parts = {part["label"]: part for part in told["parts"]}
    faults: dict[str, list[str]] = {}
    for label, pictures in artifacts.parts:
        marks = [one for step in told["steps"] for one in step["marks"] if one["on"] == label]
        for picture in pictures:
            sheet = scenes[picture.path]
            faults[sheet.title] = [
                *find_places_off_the_plan(sheet, parts[label], marks, told["edition"]),
                *find_table_faults(sheet.description, parts[label], told["edition"]),
            ]

    assert {title: [] for title in faults} == faults


def test_every_part_shows_its_finished_length_and_width(
    drawn: tuple[Artifacts, dict[str, Scene]], told: dict[str, Any]
) -> None:
    artifacts, scenes = drawn
    parts = {part["label"]: part for part in told["parts"]}
    for label, pictures in artifacts.parts:
        ranges = [
            read_size(one.text, told["edition"]) for one in sizes_of(scenes[pictures[0].path])
        ]
        for size in (parts[label]["length_mm"], parts[label]["width_mm"]):
            assert any(low <= size <= high for low, high in ranges), (label, size)


def test_chains_of_sizes_add_up_to_the_size_beside_them(
    plan: Plan, scenes: tuple[Scene, ...]
) -> None:
    faults = {scene.title: find_chain_faults(scene, plan.edition.system) for scene in scenes}

    assert {scene.title: [] for scene in scenes} == faults


def test_the_three_views_are_to_scale_and_tell_the_overall_sizes(
    drawn: tuple[Artifacts, dict[str, Scene]], told: dict[str, Any]
) -> None:
    artifacts, scenes = drawn
    views = scenes[artifacts.three_views.path]
    ranges = [read_size(one.text, told["edition"]) for one in sizes_of(views)]

    assert find_scale_faults(views, told["edition"]) == []
    for size in told["figures"]["overall_mm"]:
        assert any(low <= size <= high for low, high in ranges), size


def test_every_sheet_tells_its_size_and_that_of_every_blank_and_offcut(
    drawn: tuple[Artifacts, dict[str, Scene]], told: dict[str, Any]
) -> None:
    artifacts, scenes = drawn
    edition = told["edition"]
    for picture, sheet in zip(artifacts.layouts, told["sheets"], strict=True):
        scene = scenes[picture.path]
        length = sizes_of(scene)[0]
        assert length.span is not None
        ratio = sheet["size_mm"][0] / math.dist(*length.span)
        assert [] == find_scale_faults(scene, edition, ratio)
        texts = [text for item in _words(scene) for text in item.text.rstrip(";").split("; ")]
        shown = [read_pair(text, edition) for text in texts]
        for one in (*sheet["placements"], *sheet["offcuts"]):
            size = (one["length_mm"], one["width_mm"])
            assert any(pair and _is_within(size, pair) for pair in shown), (scene.title, one)


def test_every_drawing_has_a_title_and_a_description_of_its_own(scenes: tuple[Scene, ...]) -> None:
    assert len(scenes) == len({scene.title for scene in scenes})
    assert all(len(scene.description) > 20 for scene in scenes)


def test_no_drawing_is_too_heavy_for_a_phone(scenes: tuple[Scene, ...]) -> None:
    sizes = {scene.title: len(write_svg(scene).encode()) for scene in scenes}
    heavy = {
        title: size
        for title, size in sizes.items()
        if size > (LARGEST_EXPLODED_BYTES if "exploded" in title else LARGEST_BYTES)
    }

    assert heavy == {}


def test_no_leader_of_a_view_crosses_another_a_letter_or_words(scenes: tuple[Scene, ...]) -> None:
    crossed = {}
    for scene in scenes:
        if "assembled" in scene.title or "exploded" in scene.title or "Step" in scene.title:
            found = find_crossed_leaders(scene)
            if found:
                crossed[scene.title] = found

    assert crossed == {}


def _words(scene: Scene) -> list[Words]:
    return [item for item in scene.items if isinstance(item, Words)]


def _is_shortened(sheet: Scene) -> bool:
    return any("shortened" in item.text for item in _words(sheet))


def _is_within(size: tuple[float, float], pair: tuple[Range, Range]) -> bool:
    return all(low <= one <= high for one, (low, high) in zip(size, pair, strict=True))
