"""The independent reading of sawing must itself find what is wrong."""

from typing import Any

from tests.sawing import find_faults

KERF = 4.0


def _placement(label: str, x: float, y: float, length: float, width: float) -> dict[str, Any]:
    return {
        "label": label,
        "copy": 1,
        "x_mm": x,
        "y_mm": y,
        "length_mm": length,
        "width_mm": width,
        "turned": False,
    }


def _cut(order: int, kind: str, setting: float, *line: tuple[float, float]) -> dict[str, Any]:
    return {
        "order": order,
        "kind": kind,
        "setting_mm": setting,
        "from": list(line[0]),
        "to": list(line[1]),
    }


def _plan() -> dict[str, Any]:
    """Return a sheet of 200 by 104 that is ripped in half, one half crosscut in two."""
    return {
        "parts": [
            {"label": "A", "count": 1, "blank_mm": [200.0, 50.0], "grain": "along"},
            {"label": "B", "count": 1, "blank_mm": [98.0, 50.0], "grain": "along"},
            {"label": "C", "count": 1, "blank_mm": [98.0, 50.0], "grain": "along"},
        ],
        "sheets": [
            {
                "stock": "panel",
                "size_mm": [200.0, 104.0],
                "trim_mm": 0.0,
                "kerf_mm": KERF,
                "placements": [
                    _placement("A", 0.0, 0.0, 200.0, 50.0),
                    _placement("B", 0.0, 54.0, 98.0, 50.0),
                    _placement("C", 102.0, 54.0, 98.0, 50.0),
                ],
                "cuts": [
                    _cut(1, "rip", 50.0, (0.0, 52.0), (200.0, 52.0)),
                    _cut(2, "crosscut", 98.0, (100.0, 54.0), (100.0, 104.0)),
                ],
            }
        ],
    }


def _holds(faults: list[str], words: str) -> bool:
    return any(words in fault for fault in faults)


def test_a_sheet_that_can_be_sawn_has_no_faults() -> None:
    assert find_faults(_plan()) == []


def test_a_pinwheel_is_found_not_to_come_apart() -> None:
    plan = _plan()
    plan["parts"] = [
        {"label": label, "count": 1, "blank_mm": size}
        for label, size in (
            ("A", [120.0, 40.0]),
            ("B", [40.0, 120.0]),
            ("C", [120.0, 40.0]),
            ("D", [40.0, 120.0]),
        )
    ]
    plan["sheets"][0] |= {
        "size_mm": [164.0, 164.0],
        "placements": [
            _placement("A", 0.0, 0.0, 120.0, 40.0),
            _placement("B", 124.0, 0.0, 40.0, 120.0),
            _placement("C", 44.0, 124.0, 120.0, 40.0),
            _placement("D", 0.0, 44.0, 40.0, 120.0),
        ],
        "cuts": [],
    }
    faults = find_faults(plan)

    assert _holds(faults, "no cuts from edge to edge take the pieces apart")
    assert not _holds(faults, "overlap")
    assert not _holds(faults, "less than a kerf")


def test_an_overlap_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["placements"][2]["x_mm"] = 97.0

    assert _holds(find_faults(plan), "C 1 and B 1 overlap")


def test_pieces_nearer_than_a_kerf_are_found() -> None:
    plan = _plan()
    plan["sheets"][0]["placements"][2]["x_mm"] = 101.0

    assert _holds(find_faults(plan), "C 1 and B 1 are less than a kerf apart")


def test_a_piece_in_the_trim_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["trim_mm"] = [0.0, 0.0, 3.0, 0.0]

    assert _holds(find_faults(plan), "A 1 lies outside the trimmed sheet")


def test_a_piece_beyond_the_sheet_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["size_mm"] = [200.0, 103.0]

    assert _holds(find_faults(plan), "C 1 lies outside the trimmed sheet")


def test_a_missing_copy_is_found() -> None:
    plan = _plan()
    plan["parts"][0]["count"] = 2

    assert find_faults(plan) == ["copy 2 of A is placed 0 times"]


def test_a_copy_placed_twice_is_found() -> None:
    plan = _plan()
    plan["sheets"].append(dict(plan["sheets"][0], cuts=[]))

    assert _holds(find_faults(plan), "copy 1 of A is placed 2 times")


def test_a_placement_that_is_not_the_size_of_its_blank_is_found() -> None:
    plan = _plan()
    plan["parts"][0]["blank_mm"] = [200.0, 51.0]

    assert find_faults(plan) == ["A is not placed at the size of its blank"]


def test_a_part_turned_across_the_grain_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["placements"][1] |= {"turned": True, "length_mm": 50.0, "width_mm": 98.0}
    plan["parts"][1]["blank_mm"] = [50.0, 98.0]

    assert find_faults(plan) == ["B is turned across the grain"]


def test_a_cut_before_its_piece_exists_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][0]["order"] = 2
    plan["sheets"][0]["cuts"][1]["order"] = 1

    assert _holds(find_faults(plan), "cut 1 does not go through one piece from edge to edge")


def test_a_cut_that_stops_inside_the_sheet_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][0]["to"] = [150.0, 52.0]

    assert _holds(find_faults(plan), "cut 1 does not go through one piece from edge to edge")


def test_a_cut_through_a_blank_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][1] = _cut(2, "crosscut", 88.0, (90.0, 54.0), (90.0, 104.0))

    assert _holds(find_faults(plan), "cut 2 goes through B 1")


def test_a_cut_that_is_left_out_is_found() -> None:
    plan = _plan()
    del plan["sheets"][0]["cuts"][1]

    assert find_faults(plan) == [
        "sheet 1: B 1 is not alone at its size after the last cut",
        "sheet 1: C 1 is not alone at its size after the last cut",
    ]


def test_a_cut_away_from_its_setting_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][1]["setting_mm"] = 97.0

    assert find_faults(plan) == ["sheet 1: cut 2 is not where its setting puts it"]


def test_a_rip_called_a_crosscut_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][0]["kind"] = "crosscut"

    assert find_faults(plan) == ["sheet 1: cut 1 is no crosscut"]


def test_a_number_used_twice_is_found() -> None:
    plan = _plan()
    plan["sheets"][0]["cuts"][1]["order"] = 1

    assert _holds(find_faults(plan), "the cuts are not numbered")
