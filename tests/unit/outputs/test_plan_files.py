"""Everything written for one edition of a plan."""

from pathlib import Path

import pytest

from generator.outputs.plan_files import compute_plan_files, file_word, write_plan_files
from tests.samples import sample_plan


def test_all_drawings_and_files_have_the_names_they_are_promised() -> None:
    artifacts, files = compute_plan_files(sample_plan("metric"))

    names = [
        *(f"drawings/metric/{name}.svg" for name in ("assembled", "exploded", "finished")),
        *(f"drawings/metric/{name}.svg" for name in ("part-a", "part-b", "part-c", "sheet-1")),
        *(f"drawings/metric/{name}.svg" for name in ("step-1", "step-2", "three-views")),
        *(f"drawings/metric/saw-{number}.svg" for number in (1, 2)),
        *(f"files/metric/{name}.csv" for name in ("cut-list", "cut-order", "fasteners", "offcuts")),
        *(f"files/metric/parts/{name}.dxf" for name in ("A-side", "B-bottom", "C-shelf")),
        "files/metric/booklet-a4.pdf",
        "files/metric/templates.pdf",
        "files/metric/drawings.dxf",
        "files/metric/plan.json",
        "files/metric/sheets/1.dxf",
        "files/metric/shopping-list.csv",
        "files/metric/everything.zip",
        "files/metric/model.glb",
        "drawings/metric/solid.js",
        "drawings/metric/card.png",
    ]

    assert sorted(names) == sorted(path for path in files if path not in second_sheets(files))
    assert sorted(files) == sorted(artifacts.paths())


def second_sheets(files: dict[str, bytes]) -> set[str]:
    """Return the further sheets of parts whose copies are bored in different ways."""
    return {path for path in files if path.startswith("drawings/metric/part-a-")}


def test_the_sizes_said_are_those_written(tmp_path: Path) -> None:
    artifacts = write_plan_files(sample_plan("imperial"), tmp_path)

    for download in artifacts.downloads:
        assert download.size_bytes == (tmp_path / download.path).stat().st_size


@pytest.mark.parametrize(
    ("name", "wanted"),
    [("tray_bottom", "tray-bottom"), ("Side.Left", "side-left"), ("a[2]", "a-2")],
)
def test_names_of_files_hold_small_letters_digits_and_hyphens(name: str, wanted: str) -> None:
    assert file_word(name) == wanted
