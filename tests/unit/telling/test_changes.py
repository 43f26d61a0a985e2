"""What differs between two plans, told to the one who changed something."""

import copy
from typing import Any

from generator.telling.changes import Change, find_changes, tell_changes

PLAN: dict[str, Any] = {
    "generator": "kerfolio 1",
    "revision": "1",
    "parameters": {"width": {"value": 600.0, "unit": "mm", "says": ""}},
    "parts": [
        {"name": "side", "length_mm": 300.0, "count": 2, "outline_mm": [[0, 0], [300, 0]]},
        {"name": "shelf", "length_mm": 564.0, "count": 1, "outline_mm": [[0, 0], [564, 0]]},
    ],
    "fasteners": [{"id": f"S{number}", "head_mm": [number, 0, 0]} for number in range(1, 9)],
    "figures": {"overall_mm": [600.0, 200.0, 300.0], "mass_kg": 4.5},
}


def changed(*path: str | int, to: object) -> dict[str, Any]:
    """Return the plan with one value replaced."""
    plan = copy.deepcopy(PLAN)
    inner: Any = plan
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = to
    return plan


def told(plan: dict[str, Any]) -> tuple[str, ...]:
    return tell_changes(find_changes(PLAN, plan, "metric"))


def test_a_plan_and_itself_have_no_change() -> None:
    assert find_changes(PLAN, copy.deepcopy(PLAN), "metric") == ()


def test_another_version_of_the_generator_is_no_change() -> None:
    assert find_changes(PLAN, changed("generator", to="kerfolio 2"), "metric") == ()


def test_a_length_is_told_in_the_units_of_the_edition() -> None:
    plan = changed("parts", 0, "length_mm", to=304.8)

    assert tell_changes(find_changes(PLAN, plan, "metric")) == (
        "parts side: length 300 mm → 304.8 mm",
    )
    assert tell_changes(find_changes(PLAN, plan, "imperial")) == (
        "parts side: length 11 13/16 in → 12 in",
    )


def test_a_change_too_small_to_be_printed_is_told_all_the_same() -> None:
    (line,) = told(changed("parts", 0, "length_mm", to=300.001))

    assert line == "parts side: length 300 mm, changed by less than is printed"


def test_what_follows_from_a_change_is_named_and_not_spelled_out() -> None:
    plan = changed("parts", 0, "length_mm", to=301.0)
    plan["parts"][0]["outline_mm"] = [[0, 0], [301, 0]]

    assert told(plan) == ("parts side: length 300 mm → 301 mm; also outline",)


def test_what_happens_to_many_alike_is_told_once() -> None:
    plan = copy.deepcopy(PLAN)
    for fastener in plan["fasteners"][1:]:
        fastener["head_mm"][1] = 5

    assert told(plan) == ("fasteners S2, S3, S4 and 4 more: head",)


def test_every_value_has_a_line_of_its_own_where_that_is_asked_for() -> None:
    plan = copy.deepcopy(PLAN)
    for fastener in plan["fasteners"][1:]:
        fastener["head_mm"][1] = 5
    lines = tell_changes(find_changes(PLAN, plan, "metric"), every=True)

    assert len(lines) == 7
    assert lines[0] == "fasteners S2 head: 2 mm, 0 mm, 0 mm → 2 mm, 5 mm, 0 mm"


def test_a_part_that_comes_and_one_that_goes_are_told() -> None:
    plan = copy.deepcopy(PLAN)
    plan["parts"][1]["name"] = "board"

    assert told(plan) == ("parts shelf: gone", "parts board: new")


def test_parts_are_known_by_their_names_wherever_they_stand() -> None:
    plan = copy.deepcopy(PLAN)
    plan["parts"].reverse()

    assert told(plan) == ()


def test_a_value_of_a_section_without_entries_is_told_by_its_name() -> None:
    assert find_changes(PLAN, changed("figures", "mass_kg", to=5.0), "metric") == (
        Change(section="figures", entry="", path=("mass",), before="4.5 kg", after="5 kg"),
    )


def test_a_parameter_is_told_by_its_name() -> None:
    assert told(changed("parameters", "width", "value", to=610.0)) == (
        "parameters width: value 600 → 610",
    )
