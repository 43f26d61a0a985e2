"""The designs drawn for the laws have the work they speak of; else they would hold of nothing."""

from hypothesis import given

from tests.properties.strategies import SINGLE_PARTS, WHOLE_PLANS, Case, Panel, cases, panels


def test_cases_have_clips_notches_slots_mitres_boards_leaning_shelves_and_bevels() -> None:
    seen: set[str] = set()

    @WHOLE_PLANS
    @given(cases())
    def draw(case: Case) -> None:
        words = ("clip ", "notch ", "slot: ", "mitre with ", "from: stick", "bevel ", "hole: ")
        seen.update(word for word in words if word in case.text())
        seen.update(["leaning"] if case.lean else [])

    draw()

    assert {
        "clip ", "notch ", "slot: ", "mitre with ", "from: stick", "bevel ", "hole: ", "leaning"
    } == seen  # fmt: skip


def test_panels_have_bevels_clips_notches_arches_holes_and_slots() -> None:
    seen: set[str] = set()

    @SINGLE_PARTS
    @given(panels())
    def draw(panel: Panel) -> None:
        words = ("bevel ", "clip ", "notch ", "arch: ", "hole: ", "slot: ")
        seen.update(word for word in words if word in panel.work())

    draw()

    assert {"bevel ", "clip ", "notch ", "arch: ", "hole: ", "slot: "} == seen
