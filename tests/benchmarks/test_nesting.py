"""The benchmark of nesting: its check of layouts finds faults, and its table adds up."""

from pathlib import Path

import pytest

from tests.benchmarks.benchmark_layouts import Instance, Layout, comes_apart, find_layout_faults
from tests.benchmarks.nesting import Result, format_table, main, solve
from tests.benchmarks.packed_by_rectpack import count_sheets

PINWHEEL = [(0, 0, 4, 2), (4, 0, 2, 4), (2, 4, 4, 2), (0, 2, 2, 4), (2, 2, 2, 2)]


def _instance(items: list[tuple[int, int, int]], *, turns: bool = False) -> Instance:
    return Instance(
        name="made up", cell="1_20", along_x=10, along_y=6, items=tuple(items), turns=turns
    )


def test_a_pinwheel_does_not_come_apart_and_a_grid_does() -> None:
    assert not comes_apart(PINWHEEL)
    assert comes_apart([(0, 0, 4, 2), (4, 0, 2, 2), (0, 2, 4, 4), (4, 2, 2, 4)])


@pytest.mark.parametrize(
    ("layout", "fault"),
    [
        ([[(0, 0, 5, 6), (6, 0, 5, 6)]], "outside"),
        ([[(0, 0, 5, 6), (4, 0, 5, 6)]], "edge to edge"),
        ([[(0, 0, 5, 6)]], "not the pieces wanted"),
        ([[(0, 0, 5, 6)], [(0, 0, 6, 5)]], "not the pieces wanted"),
    ],
)
def test_the_check_finds_a_fault(layout: Layout, fault: str) -> None:
    assert any(fault in found for found in find_layout_faults(_instance([(5, 6, 2)]), layout))


def test_the_check_finds_nothing_wrong_with_a_good_layout() -> None:
    layout = [[(0, 0, 5, 6), (5, 0, 5, 6)]]

    assert [] == find_layout_faults(_instance([(5, 6, 2)]), layout)
    assert [] == find_layout_faults(_instance([(6, 5, 2)], turns=True), layout)


def test_a_small_case_is_solved_to_its_bound_and_rectpack_needs_no_less() -> None:
    instance = _instance([(5, 3, 4), (10, 2, 3)])
    layout, bound = solve(instance, 0.5)

    assert [] == find_layout_faults(instance, layout)
    assert (2, 2) == (len(layout), bound)
    assert count_sheets(instance, everything=False) >= bound


def test_the_table_has_a_line_for_each_cell_and_a_total_of_what_it_shows() -> None:
    results = [
        Result(name=name, cell=cell, turns=True, sheets=3, bound=2, rectpack=4, seconds=0.5)
        for name, cell in (("a", "1_20"), ("b", "1_20"), ("c", "2_20"))
    ]
    title, head, *lines = format_table(results, {"them": {"1_20": 7}}).splitlines()

    assert "with turns" == title
    assert ["cell", "n", "ours", "bound", "rectpack", "seconds", "longest", "them"] == head.split()
    assert ["1_20 2 6 4 8 1.0 0.50 7", "2_20 1 3 2 4 0.5 0.50 -", "total 3 9 6 12 1.5 0.50 7"] == [
        " ".join(line.split()) for line in lines
    ]


def test_an_instance_in_the_log_is_not_solved_again(tmp_path: Path) -> None:
    log = tmp_path / "log"
    arguments = ["--data", str(_write_data(tmp_path)), "--seconds", "0.2", "--log", str(log)]

    assert 0 == main([*arguments, "--turns", "without"])
    (first,) = log.read_text(encoding="utf-8").splitlines()
    assert 0 == main([*arguments, "--turns", "without"])
    assert first == log.read_text(encoding="utf-8").strip()


def _write_data(folder: Path) -> Path:
    item = '{"id": "x", "cls": 1, "n": 1, "W": 9, "H": 9, "items": [[3, 4]]}'
    (folder / "bwmv500.json").write_text(f'{{"instances": [{item}]}}', encoding="utf-8")
    (folder / "furniture_A43.json").write_text('{"instances": []}', encoding="utf-8")
    published = '{"OG": {"m": {"1_1": 1}}, "RG": {"m": {"1_1": 1}}}'
    (folder / "published_2bp_guillotine.json").write_text(published, encoding="utf-8")
    return folder
