"""Whatever value of a published plan changes, the comparison tells of it, and of nothing else."""

import copy
import json
from collections.abc import Iterator
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.outputs.plan_json import plan_json
from generator.telling.changes import find_changes, tell_changes
from tests.little_designs import plan_of

SHELF = """
parts:
  side: {from: panel, length: 300 mm, width: 200 mm, runs: {length: up, width: back}}
  shelf:
    from: panel
    length: 500 mm
    width: 200 mm
    runs: {length: right, width: back}
    corner: [panel, 0 mm, 100 mm]
joints: [{join: side to shelf, with: face screws}]
steps: [{title: Screw it, fit: "side, shelf"}]
"""
PLAN: dict[str, Any] = json.loads(plan_json(plan_of(SHELF)))


def _leaves(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the path to every number and text but the version of the generator."""
    if isinstance(value, dict | list):
        entries = value.items() if isinstance(value, dict) else enumerate(value)
        for key, inner in entries:
            yield from _leaves(inner, (*path, key))
    elif isinstance(value, int | float | str) and path != ("generator",):
        yield path


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(sorted(_leaves(PLAN), key=str)))
def test_a_value_that_changed_is_told_in_its_section_alone(path: tuple[str | int, ...]) -> None:
    plan = copy.deepcopy(PLAN)
    inner: Any = plan
    for key in path[:-1]:
        inner = inner[key]
    old = inner[path[-1]]
    inner[path[-1]] = f"{old} more" if isinstance(old, str) else old + 1
    found = find_changes(PLAN, plan, "metric")

    assert {str(path[0]).replace("_", " ")} == {change.section for change in found}
    assert len(tell_changes(found)) >= 1
