"""The script that a page loads to show the piece as solids."""

import json
from typing import Any

import pytest

from generator.model.plan import Plan
from generator.outputs.solid.page_model import write_page_model
from tests.samples import sample_plan


def read_script(data: bytes, key: str) -> Any:
    """Return what the script puts on the shelf, read without running it."""
    text = data.decode("ascii")
    head = f'(window.planSolids=window.planSolids||{{}})["{key}"]='
    assert text.startswith(head)
    assert text.endswith(";\n")
    return json.loads(text.removeprefix(head).removesuffix(";\n"))


@pytest.fixture(scope="module")
def plan() -> Plan:
    return sample_plan("metric")


@pytest.fixture(scope="module")
def told(plan: Plan) -> Any:
    return read_script(write_page_model(plan), f"{plan.edition.story.slug}/metric")


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


def test_lists_of_corners_triangles_and_edges_hold_together(told: Any) -> None:
    for part in told["parts"]:
        count, rest = divmod(len(part["points"]), 3)
        numbers = (*part["triangles"], *part["edges"], *part["rounds"])

        assert 0 == rest
        assert set(part["triangles"]) == set(range(count))
        assert 0 == len(part["triangles"]) % 3 == len(part["edges"]) % 2
        assert max(numbers) < count
