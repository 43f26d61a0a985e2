"""Everything of a plan in one zip."""

import io
import zipfile

import pytest

from generator.outputs.everything import README
from generator.outputs.plan_files import compute_plan_files
from generator.telling.advice import USUAL_CAUTIONS
from generator.units import SYSTEMS, System
from tests.samples import sample_plan

ZIP = "files/{}/everything.zip"


def open_zip(system: System) -> tuple[zipfile.ZipFile, dict[str, bytes]]:
    """Return the zip of the sample and everything that was written."""
    _, files = compute_plan_files(sample_plan(system))
    return zipfile.ZipFile(io.BytesIO(files[ZIP.format(system)])), files


@pytest.mark.parametrize("system", SYSTEMS)
def test_it_holds_every_drawing_and_file_as_written(system: System) -> None:
    packed, files = open_zip(system)
    folder = f"{sample_plan(system).edition.story.slug}-{system}"
    wanted = {
        f"{folder}/drawings/{path.rpartition('/')[2]}": data
        for path, data in files.items()
        if path.endswith(".svg") and path.startswith("drawings/")
    }
    wanted |= {
        f"{folder}/{path.removeprefix(f'files/{system}/')}": data
        for path, data in files.items()
        if path.startswith("files/") and path != ZIP.format(system)
    }
    found = {name: packed.read(name) for name in packed.namelist()}
    told = found.pop(f"{folder}/{README}").decode("utf-8")

    assert packed.testzip() is None
    assert wanted == found
    assert [name for name in wanted if f"\n{name.removeprefix(f'{folder}/')}\n" not in told] == []


def test_its_text_names_the_plan_and_cautions_the_reader() -> None:
    packed, _ = open_zip("imperial")
    story = sample_plan("imperial").edition.story
    readme = next(name for name in packed.namelist() if name.endswith(README))
    lines = packed.read(readme).decode("utf-8").splitlines()
    flat = " ".join(line.strip() for line in lines)

    assert f"{story.title}, in inches" == lines[0]
    assert all(caution in flat for caution in USUAL_CAUTIONS)
    assert max(map(len, lines)) <= 78


def test_nothing_in_it_depends_on_the_day_or_leaves_its_folder() -> None:
    packed, _ = open_zip("metric")
    names = packed.namelist()

    assert sorted(names) == names
    assert {(2026, 1, 1, 0, 0, 0)} == {entry.date_time for entry in packed.infolist()}
    assert {names[0].partition("/")[0]} == {name.partition("/")[0] for name in names}
    assert not any(".." in name or name.startswith("/") or "\\" in name for name in names)
