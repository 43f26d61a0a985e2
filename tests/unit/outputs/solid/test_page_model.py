"""The script that a page loads to show the piece as solids."""

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from generator.model.plan import Plan
from generator.outputs.bodies import solids_of
from generator.outputs.solid.page_model import write_page_model
from generator.outputs.step_work import find_viewpoint
from generator.outputs.views import RAISE_DEG
from tests.published.test_solids_against_trimesh import demo_plan
from tests.samples import sample_plan


def read_script(data: bytes) -> Any:
    """Return what the script holds, read without running it."""
    text = data.decode("ascii")
    head = "window.planSolid="
    assert text.startswith(head)
    assert text.endswith(";\n")
    return json.loads(text.removeprefix(head).removesuffix(";\n"))


@pytest.fixture(scope="module")
def plan() -> Plan:
    return sample_plan("metric")


@pytest.fixture(scope="module")
def told(plan: Plan) -> Any:
    return read_script(write_page_model(plan))


def test_every_piece_stands_where_its_frame_is(plan: Plan, told: Any) -> None:
    pieces = plan.parts.pieces()

    assert len(pieces) == len(told["pieces"])
    for piece, row in zip(pieces, told["pieces"], strict=True):
        assert piece.label == told["parts"][row["part"]]["label"]
        assert piece.frame.origin == pytest.approx([n / 10 for n in row["at"]], abs=0.05)
        ways = (*piece.frame.x, *piece.frame.y, *piece.frame.z)
        assert ways == pytest.approx(row["axes"], abs=1e-5)


def test_pieces_that_touch_are_pulled_apart(plan: Plan, told: Any) -> None:
    away = {
        piece.name: row["away"]
        for piece, row in zip(plan.parts.pieces(), told["pieces"], strict=True)
    }

    assert plan.joinery.contacts
    for contact in plan.joinery.contacts:
        assert away[contact.first] != away[contact.second]


def test_a_step_tells_what_is_new_and_all_that_is_there(plan: Plan, told: Any) -> None:
    names = [piece.name for piece in plan.parts.pieces()]

    assert len(plan.assembly.steps) == len(told["steps"])
    for step, row in zip(plan.assembly.steps, told["steps"], strict=True):
        assert step.title == row["title"]
        assert set(step.pieces) <= {names[number] for number in row["new"]}
        assert {*row["new"]} <= {*row["there"]}
        assert set(step.present) <= {names[number] for number in row["there"]}


def test_a_step_tells_of_every_screw_where_it_goes_in_and_along_its_axis(
    plan: Plan, told: Any
) -> None:
    """Its head stands as far out of its hole as it is long, on its own axis."""
    names = [piece.name for piece in plan.parts.pieces()]
    seen = 0
    for step, row in zip(plan.assembly.steps, told["steps"], strict=True):
        driven = np.array(row["driven"]).reshape(-1, 7)
        fasteners = [plan.joinery.fastener(name) for name in step.fasteners]

        assert len(fasteners) == len(driven)
        for numbers in driven.tolist():
            mouth, head = np.array(numbers[1:4]) / 10, np.array(numbers[4:]) / 10
            way = (mouth - head) / np.linalg.norm(mouth - head)
            nearest = min(fasteners, key=lambda one: float(np.linalg.norm(mouth - one.head)))
            away = np.cross(mouth - nearest.head, nearest.direction)

            assert names[numbers[0]] == nearest.through[0]
            assert nearest.direction == pytest.approx(way, abs=0.01)
            assert 0.2 > np.linalg.norm(away)
            seen += 1
    assert len(plan.joinery.fasteners) == seen


def test_a_step_that_puts_nothing_on_shows_the_whole_piece(plan: Plan) -> None:
    (*before, last) = plan.assembly.steps
    bare = replace(last, order=last.order + 1, pieces=(), present=(), fasteners=(), joins=())
    further = replace(plan, assembly=replace(plan.assembly, steps=(*before, last, bare)))
    told = read_script(write_page_model(further))

    assert list(range(len(plan.parts.pieces()))) == told["steps"][-1]["there"]
    assert [] == told["steps"][-1]["new"]


def test_lists_of_corners_triangles_and_edges_hold_together(told: Any) -> None:
    for part in told["parts"]:
        count, rest = divmod(len(part["points"]), 3)
        numbers = (*part["triangles"], *part["edges"], *part["rounds"])

        assert 0 == rest
        assert set(part["triangles"]) == set(range(count))
        assert 0 == len(part["triangles"]) % 3 == len(part["edges"]) % 2
        assert max(numbers) < count


@pytest.mark.parametrize(
    ("slug", "lies"), [("entry-bench", "lying on its front"), ("seed-tray-stand", "upside down")]
)
def test_a_step_lies_on_the_bench_and_is_looked_at_as_in_its_picture(slug: str, lies: str) -> None:
    """A point of the bench seen from a turn to the right and a rise, worked out anew."""
    plan = demo_plan(slug, "metric")
    told = read_script(write_page_model(plan))
    seen = []
    for step, row in zip(plan.assembly.steps, told["steps"], strict=True):
        best, _ = find_viewpoint(plan, step, solids_of(plan))
        seen.append(best.words)
        turn, rise = math.radians(row["turn"]), math.radians(RAISE_DEG)
        bench = np.array(row["bench"]).reshape(3, 3).T
        right = bench @ [math.cos(turn), math.sin(turn), 0.0]
        ahead = bench @ [math.sin(turn), -math.cos(turn), 0.0]
        up = bench @ [0.0, 0.0, 1.0]

        assert best.view.right == pytest.approx(right, abs=1e-4)
        assert best.view.eye == pytest.approx(
            ahead * math.cos(rise) + up * math.sin(rise), abs=1e-4
        )
        assert np.linalg.det(bench) == pytest.approx(1.0)
    assert any(words.startswith(lies) for words in seen)
