"""Pictures of whole plans: nothing off the sheet, nothing on top of text, the right things new."""

import functools
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from math import dist

import pytest
from shapely.geometry import LineString, Point

from generator.model.assembly import Step
from generator.model.plan import Plan
from generator.outputs.bodies import solids_of
from generator.outputs.exploded import draw_exploded
from generator.outputs.labels import RADIUS_MM
from generator.outputs.scene import Area, Arrowhead, Disc, Scene, Stroke, Words
from generator.outputs.scene_check import find_text_faults
from generator.outputs.step_pictures import draw_step
from generator.outputs.step_work import find_new
from generator.outputs.svg import write_svg
from generator.outputs.three_views import draw_three_views
from generator.outputs.views import draw_assembled, draw_finished, look_assembled
from generator.units import SYSTEMS, System
from tests.sample_stand import sample_stand
from tests.samples import sample_plan

PLANS: dict[str, Callable[[System], Plan]] = {"small": sample_plan, "stand": sample_stand}


@functools.cache
def pictures_of(name: str, system: System) -> tuple[Scene, ...]:
    return tuple(pictures(PLANS[name](system)))


def pictures(plan: Plan) -> list[Scene]:
    steps = [draw_step(plan, step) for step in plan.assembly.steps]
    looked = look_assembled(solids_of(plan))
    whole = [draw_assembled(plan, looked), draw_finished(plan, looked)]
    return [*whole, draw_exploded(plan), draw_three_views(plan), *steps]


def points_of(scene: Scene) -> list[tuple[float, float]]:
    points: list[tuple[float, float]] = []
    for item in scene.items:
        match item:
            case Stroke():
                points += item.points
            case Area():
                points += [point for ring in item.rings for point in ring]
            case Disc():
                x, y = item.center
                r = item.radius_mm
                points += [(x - r, y - r), (x + r, y + r)]
            case Words() | Arrowhead():
                points.append(item.at)
    return points


def bubbles_of(scene: Scene) -> list[Disc]:
    return [i for i in scene.items if isinstance(i, Disc) and i.tone == "bubble"]


def texts_of(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", PLANS)
def test_every_picture_keeps_to_its_sheet_and_its_text_is_clear(name: str, system: System) -> None:
    for scene in pictures_of(name, system):
        xs, ys = zip(*points_of(scene), strict=True)

        assert find_text_faults(scene) == []
        assert min(xs) >= 0
        assert min(ys) >= 0
        assert max(xs) <= scene.width_mm
        assert max(ys) <= scene.height_mm
        assert scene.width_mm <= 180


@pytest.mark.parametrize("name", PLANS)
def test_bubbles_overlap_nothing_and_leaders_do_not_cross(name: str) -> None:
    for scene in pictures_of(name, "metric"):
        bubbles = bubbles_of(scene)
        leaders = [
            LineString(i.points)
            for i in scene.items
            if isinstance(i, Stroke) and i.layer == "leader"
        ]
        screws = [
            LineString(i.points)
            for i in scene.items
            if isinstance(i, Stroke) and i.layer == "screw"
        ]
        gaps = [dist(a.center, b.center) for a, b in combinations(bubbles, 2)]
        crossings = [a.crosses(b) for a, b in combinations(leaders, 2)]

        assert min(gaps, default=99.0) > 2 * RADIUS_MM
        assert True not in crossings
        for bubble in bubbles:
            disc = Point(bubble.center).buffer(0.99 * bubble.radius_mm)

            assert not any(disc.intersects(line) for line in (*leaders, *screws))


@pytest.mark.parametrize("name", PLANS)
def test_no_picture_is_larger_than_fifteen_kilobytes(name: str) -> None:
    sizes = [len(write_svg(scene).encode()) for scene in pictures_of(name, "imperial")]

    assert max(sizes) <= 15_000


def test_the_assembled_piece_names_every_part_once_and_its_size_in_words() -> None:
    scene = pictures_of("stand", "metric")[0]

    assert sorted(texts_of(scene)) == ["A", "B", "C", "D", "E"]
    assert "760 mm wide, 355 mm deep, 1015 mm high" in scene.description


@pytest.mark.parametrize("name", PLANS)
def test_the_finished_piece_is_drawn_without_letters_as_large_as_goes(name: str) -> None:
    lettered, plain = pictures_of(name, "metric")[:2]
    low = [min(values) for values in zip(*points_of(plain), strict=True)]
    high = [max(values) for values in zip(*points_of(plain), strict=True)]

    assert texts_of(plain) == []
    assert lettered.description.startswith(plain.description)
    assert low[1] == pytest.approx(2, abs=0.001)
    assert high[1] == pytest.approx(plain.height_mm - 2, abs=0.001)
    assert low[0] + high[0] == pytest.approx(plain.width_mm, abs=0.001)
    assert max((high[0] - low[0]) / 156, (high[1] - low[1]) / 146) == pytest.approx(1, abs=0.001)


def test_the_exploded_view_names_every_piece() -> None:
    plan = sample_stand("metric")

    assert sorted(texts_of(draw_exploded(plan))) == sorted(p.label for p in plan.parts.pieces())


def test_the_three_views_stand_as_their_edition_is_used_to() -> None:
    # ISO 5456-2: third angle shows the top above the front, first angle below it.
    at = {
        system: {
            w.text: w.at[1]
            for w in draw_three_views(sample_stand(system)).items
            if isinstance(w, Words)
        }
        for system in SYSTEMS
    }

    assert at["imperial"]["Top"] > at["imperial"]["Front"]
    assert at["metric"]["Top"] < at["metric"]["Front"]
    assert "Right side" in at["imperial"]
    assert "Left side" in at["metric"]


def test_the_three_views_give_width_depth_and_height_once_each_and_the_scale() -> None:
    texts = texts_of(draw_three_views(sample_stand("metric")))

    assert [texts.count(t) for t in ("760 mm", "355 mm", "1015 mm", "Scale 1:20")] == [1, 1, 1, 1]


def test_the_front_view_is_to_scale() -> None:
    scene = draw_three_views(sample_stand("metric"))
    outline = [
        p for i in scene.items if isinstance(i, Stroke) and i.layer == "outline" for p in i.points
    ]
    size = next(i for i in scene.items if isinstance(i, Stroke) and i.layer == "dimension")
    left = min(x for x, _ in outline)

    assert size.points[0][0] == pytest.approx(left)
    assert {round(x - left, 2) for x, _ in outline} >= {38.0}


def test_a_step_shows_new_pieces_in_their_own_tones_and_every_screw() -> None:
    plan = sample_stand("metric")
    step = plan.assembly.steps[2]
    scene = draw_step(plan, step)
    tones = {item.tone for item in scene.items if isinstance(item, Area)}
    screws = [i for i in scene.items if isinstance(i, Stroke) and i.layer == "screw"]

    assert len(screws) == 2 * len(step.fasteners) == 12
    assert "quiet" in tones
    assert tones - {"quiet"} <= {"new_top", "new_front", "new_side"}
    assert "A" in texts_of(scene)
    assert "Seen from the front left and above" in texts_of(scene)


def test_screws_through_the_left_side_are_seen_from_the_left() -> None:
    plan = sample_stand("metric")

    assert (
        "Seen from the front left and above." in draw_step(plan, plan.assembly.steps[2]).description
    )


def test_rails_behind_the_trays_are_seen_from_behind() -> None:
    plan = sample_stand("metric")

    assert "Seen from the back" in draw_step(plan, plan.assembly.steps[3]).description


def test_a_step_that_joins_a_sub_assembly_shows_its_pieces_as_new() -> None:
    plan = sample_stand("metric")
    first, second = plan.assembly.steps[:2]

    assert set(find_new(plan, second)) == {*first.pieces, "side.right"}


def test_a_step_without_pieces_shows_the_whole() -> None:
    plan = sample_plan("metric")
    empty: Step = replace(plan.assembly.steps[0], pieces=(), present=(), fasteners=(), glued=())
    scene = draw_step(plan, empty)

    assert {item.tone for item in scene.items if isinstance(item, Area)} == {"quiet"}
    assert texts_of(scene) == []


def test_the_same_plan_gives_the_same_pictures() -> None:
    first = [write_svg(scene) for scene in pictures_of("stand", "metric")]

    assert [write_svg(scene) for scene in pictures(sample_stand("metric"))] == first
