"""The benchmark of boards counts what it says it counts."""

import json
from pathlib import Path

import pytest

from tests.benchmarks.boards import Instance, find_faults, main, read_instances

KNOWN = Instance(name="pairs", family="made", length=9, pieces={6: 2, 3: 2}, optimum=2, seen=(2, 2))


def _write(folder: Path, optimum: int | None) -> Path:
    known = {"lb": 2, "ub": 3} if optimum is None else {"opt": optimum}
    one = {"id": "pairs", "set": "made", "L": 9, "items": [[6, 2], [3, 2]], **known}
    path = folder / "csp1d.json"
    path.write_text(json.dumps({"instances": [one]}), encoding="utf-8")
    return path


def test_an_instance_is_read_with_what_is_known_of_it(tmp_path: Path) -> None:
    assert [KNOWN] == read_instances(_write(tmp_path, 2))
    assert [(None, (2, 3))] == [
        (one.optimum, one.seen) for one in read_instances(_write(tmp_path, None))
    ]


def test_a_board_too_full_and_a_piece_too_many_are_found() -> None:
    assert [] == find_faults(KNOWN, [[6, 3], [3, 6]])
    assert ["pairs: a board of 9 holds 12"] == find_faults(KNOWN, [[6, 3, 3], [6]])
    assert ["pairs: the pieces are not those asked for"] == find_faults(KNOWN, [[6, 3], [6]])


def test_the_table_names_what_is_not_solved_to_its_optimum(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _write(tmp_path, 2)
    assert main(["--data", str(tmp_path)]) == 0
    assert "not solved to the proved optimum: none" in capsys.readouterr().out

    _write(tmp_path, 1)
    assert main(["--data", str(tmp_path)]) == 1
    said = capsys.readouterr().out
    assert "not solved to the proved optimum: pairs: optimum 1, ours 2, proved least" in said


def test_instances_without_an_optimum_stand_apart(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _write(tmp_path, None)

    assert main(["--data", str(tmp_path)]) == 0
    assert "pairs: known 2 to 3, ours 2, proved least" in capsys.readouterr().out
