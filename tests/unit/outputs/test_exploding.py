"""How pieces move apart: the way they come off, in the order of the steps."""

from dataclasses import replace
from functools import cache

import pytest

from generator.geometry.vectors import Vec3, dot, subtract
from generator.model.plan import Plan
from generator.outputs.exploding import GAP, explode
from tests.exploded import difference, find_collisions
from tests.sample_stand import sample_stand
from tests.samples import sample_plan


@cache
def stand() -> Plan:
    return sample_stand("metric")


@pytest.mark.parametrize("plan", [stand(), sample_plan("metric"), sample_plan("imperial")])
def test_nothing_passes_through_anything_and_nothing_overlaps_when_all_are_apart(
    plan: Plan,
) -> None:
    assert find_collisions(plan, explode(plan)) == []


def test_a_way_that_is_barred_is_found_by_the_solids() -> None:
    exploded = explode(stand())
    names, there, way = next(row for row in exploded.ways if row[0][0].startswith("side"))
    back: Vec3 = (-way.direction[0], -way.direction[1], -way.direction[2])
    wrong = type(exploded)(exploded.moves, ((names, there, type(way)(back, way.lift)),), ())

    assert find_collisions(stand(), wrong) != []


def test_every_piece_but_the_first_of_a_group_has_come_off_and_by_a_gap_at_least() -> None:
    exploded = explode(stand())
    size = max(subtract(stand().parts.high, stand().parts.low))
    moved = {name for names, _, _ in exploded.ways for name in names}
    parted = [
        abs(dot(subtract(exploded.moves[c.second], exploded.moves[c.first]), c.normal))
        for c in stand().joinery.contacts
    ]

    assert len({p.name for p in stand().parts.pieces()} - moved) <= len(stand().assembly.steps)
    assert max(parted) >= GAP * size - 1
    assert min(parted) > 0.3 * GAP * size


def test_pieces_of_a_sub_assembly_stand_closer_together_than_others() -> None:
    plan = stand()
    exploded = explode(plan)
    apart = next(step for step in plan.assembly.steps if step.apart)
    inside = [
        c for c in plan.joinery.contacts if c.first in apart.pieces and c.second in apart.pieces
    ]
    away = [
        max(abs(v) for v in difference(exploded.moves[c.first], exploded.moves[c.second]))
        for c in inside
    ]
    size = max(subtract(plan.parts.high, plan.parts.low))

    assert away
    assert 0 < min(away)
    assert max(away) < GAP * size


def test_a_trail_begins_on_its_piece_and_runs_back_the_way_it_came() -> None:
    exploded = explode(stand())

    assert exploded.trails
    for trail in exploded.trails:
        assert trail[0].further == (0.0, 0.0, 0.0)
        assert len({stop.point for stop in trail}) == 1
        if len(trail) > 1 and trail[1].piece == trail[0].piece:
            way = next(w for names, _, w in exploded.ways if trail[0].piece in names)
            x, y, z = trail[1].further
            length = (x * x + y * y + z * z) ** 0.5
            if way.lift == (0.0, 0.0, 0.0):
                assert dot(trail[1].further, way.direction) == pytest.approx(-length)


def test_a_piece_that_touches_nothing_stays() -> None:
    piece = replace(sample_plan("metric").parts.parts[1].pieces[0], name="alone")
    plan = sample_plan("metric")
    bottom = plan.parts.parts[1]
    alone = replace(bottom, pieces=(*bottom.pieces, piece))
    parts = replace(plan.parts, parts=(plan.parts.parts[0], alone, plan.parts.parts[2]))

    assert explode(replace(plan, parts=parts)).moves["alone"] == (0.0, 0.0, 0.0)
