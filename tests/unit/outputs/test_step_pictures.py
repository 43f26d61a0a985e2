"""Pictures of steps: fasteners on their axes with counts, glue, layout lines, poses, enlarging."""

import math
from dataclasses import replace

import pytest

from generator.geometry.vectors import BACK, DOWN, FRONT, UP, Vec3, add, dot, scale
from generator.model.assembly import Step
from generator.model.plan import Plan
from generator.outputs.bodies import solids_of
from generator.outputs.driven import find_driven, find_ends
from generator.outputs.enlarged import RADIUS_MM
from generator.outputs.scene import Arrowhead, Disc, Scene, Stroke, Words
from generator.outputs.seams import glue_beads, lines_behind
from generator.outputs.step_pictures import draw_step
from generator.outputs.step_work import find_work, look_at_step
from generator.outputs.viewpoints import choose_view
from generator.units import SYSTEMS, System
from tests.demo_plans import demo_plan
from tests.leaders import find_crossed_leaders
from tests.sample_stand import sample_stand
from tests.samples import sample_plan


def texts_of(scene: Scene) -> list[str]:
    return [item.text for item in scene.items if isinstance(item, Words)]


def large_circles(scene: Scene) -> list[Disc]:
    return [i for i in scene.items if isinstance(i, Disc) and i.radius_mm == RADIUS_MM]


def step_with_screws(plan: Plan) -> Step:
    return next(step for step in plan.assembly.steps if step.fasteners)


def test_every_fastener_of_a_step_is_counted_once_in_words_beside_the_picture() -> None:
    for plan in (sample_plan("metric"), sample_stand("metric")):
        for step in plan.assembly.steps:
            counted = [text for text in texts_of(draw_step(plan, step)) if " × " in text]

            assert sum(int(text.split(" × ")[0]) for text in counted) == len(step.fasteners)


def test_screws_whose_holes_are_all_out_of_sight_are_said_to_come_from_the_far_side() -> None:
    for plan in (sample_plan("metric"), sample_stand("metric")):
        for step in plan.assembly.steps:
            work = find_work(plan, step)
            for name in {one.name for one in work.driven}:
                seen = [
                    s for one, s in zip(work.driven, work.seen, strict=True) if one.name == name
                ]
                text = next(text for text in texts_of(draw_step(plan, step)) if name in text)

                assert text.endswith("from the far side") == (not any(seen))


def test_a_fastener_is_drawn_before_its_hole_on_its_own_axis() -> None:
    plan = sample_stand("metric")
    for one in find_driven(plan, step_with_screws(plan)):
        head, tip = find_ends(one, 0.1)
        back = [tuple(a - b for a, b in zip(one.at, end, strict=True)) for end in (head, tip)]

        for away in back:
            along = sum(a * w for a, w in zip(away, one.way, strict=True))

            assert math.hypot(*away) == pytest.approx(along)
            assert along >= 19.9
        assert math.dist(head, tip) == pytest.approx(max(one.length_mm, 50.0))


def test_no_leader_of_a_step_crosses_another_a_letter_or_words() -> None:
    for plan in (sample_plan("imperial"), sample_stand("imperial")):
        for step in plan.assembly.steps:
            assert find_crossed_leaders(draw_step(plan, step)) == []


@pytest.mark.parametrize(("length_mm", "circles"), [(80.0, 0), (12.0, 2)])
def test_fasteners_too_short_on_paper_are_shown_enlarged_and_others_are_not(
    length_mm: float, circles: int
) -> None:
    plan = sample_plan("metric")
    fasteners = tuple(
        replace(one, tip=add(one.head, scale(one.direction, length_mm)))
        for one in plan.joinery.fasteners
    )
    changed = replace(plan, joinery=replace(plan.joinery, fasteners=fasteners))

    assert len(large_circles(draw_step(changed, step_with_screws(changed)))) == circles


def test_glue_is_named_and_drawn_exactly_where_a_step_glues() -> None:
    plan = sample_plan("metric")
    step = plan.assembly.steps[0]
    contact = plan.joinery.contacts[0]
    pair = (contact.first, contact.second)
    glued = replace(step, glued=(pair,), present=(*step.present, *pair))
    dry = replace(glued, glued=())

    assert "glue" in texts_of(draw_step(plan, glued))
    assert any(i.layer == "glue" for i in draw_step(plan, glued).items if isinstance(i, Stroke))
    assert "glue" not in texts_of(draw_step(plan, dry))
    assert len(glue_beads(plan, glued)) == sum(
        {one.first, one.second} == set(pair) for one in plan.joinery.contacts
    )


def test_lines_of_what_lies_behind_stand_on_the_face_the_screw_goes_into() -> None:
    plan = sample_plan("metric")
    for step in plan.assembly.steps:
        driven = find_driven(plan, step)
        planes = [(one.way, dot(one.at, one.way)) for one in driven]
        for line in lines_behind(plan, step, driven):
            for point in line:
                assert any(abs(dot(point, way) - at) < 0.1 for way, at in planes)


@pytest.mark.parametrize(
    ("way", "up", "words"),
    [
        (UP, DOWN, "upside down"),
        (DOWN, UP, "seen from"),
        (FRONT, BACK, "lying on its front"),
        (BACK, FRONT, "lying on its back"),
    ],
)
def test_screws_are_driven_downward_where_the_piece_can_be_turned(
    way: Vec3, up: Vec3, words: str
) -> None:
    plan = sample_plan("metric")
    name = "bottom" if way in (UP, DOWN) else plan.parts.part("A").pieces[0].name
    name = next(p.name for p in plan.parts.pieces() if p.name.startswith(name.split(".")[0]))
    mesh = solids_of(plan).mesh([name])
    if way in (FRONT, BACK):
        # A board that stands on its edge: what was left is now in front.
        turned = mesh.points[:, [1, 0, 2]]
        mesh = replace(mesh, points=turned, normals=mesh.normals[:, [1, 0, 2]])
    middle = mesh.points.mean(axis=0)
    top = mesh.points @ [-way[0], -way[1], -way[2]]
    at = middle + [
        -w * (top.max() - float(middle @ [-way[0], -way[1], -way[2]]) + 0.1) for w in way
    ]
    best = choose_view(mesh, [name], [((float(at[0]), float(at[1]), float(at[2])), way)])

    assert best.words.startswith(words)
    assert dot(best.view.up, up) > 0.5


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_eye_goes_through_older_pieces_where_no_screw_could_be_seen(system: System) -> None:
    """The treads of the stool are screwed on from below, inside its own four walls."""
    plan = demo_plan("step-stool", system)
    walls, _, *treads = (find_work(plan, step) for step in plan.assembly.steps)

    assert () == walls.best.through
    for work in treads:
        assert work.best.through
        assert set(work.best.through).isdisjoint(work.new)
        assert all(work.seen)
        assert work.best.words.endswith("through what hides the screws")


def test_pieces_the_eye_goes_through_are_drawn_as_lines_without_a_face() -> None:
    plan = demo_plan("step-stool", "metric")
    work = find_work(plan, plan.assembly.steps[-1])
    through = {name for name in work.whole.names if name not in work.looked.names}

    assert set(work.best.through) == through
    assert through == {work.whole.names[one.owner] for one in work.outlines}


def test_a_turned_piece_has_an_arrow_to_its_top_and_an_upright_one_has_none() -> None:
    plan = sample_stand("metric")
    for step in plan.assembly.steps:
        best, _ = look_at_step(plan, step, solids_of(plan))
        scene = draw_step(plan, step)
        arrows = [item for item in scene.items if isinstance(item, Arrowhead)]

        assert ("top" in texts_of(scene)) == best.is_turned
        for arrow in arrows:
            x, y, _ = best.view.project(UP)

            assert arrow.direction == pytest.approx((x / math.hypot(x, y), y / math.hypot(x, y)))
