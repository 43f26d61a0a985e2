"""The file library.yml: its keys, and what is refused."""

from pathlib import Path

import pytest

from generator.design.library_file import LibraryFile, read_library_file
from generator.problems import ProblemLog


def _read(folder: Path, text: str) -> tuple[LibraryFile, list[str]]:
    (folder / "library.yml").write_text(text, encoding="utf-8")
    log = ProblemLog()
    return read_library_file(folder, log), [problem.code for problem in log.problems]


@pytest.mark.parametrize("written", ["https://plans.example", "https://plans.example/"])
def test_an_address_ends_in_a_stroke_however_it_is_written(tmp_path: Path, written: str) -> None:
    found, codes = _read(tmp_path, f"title: Shop\naddress: {written}\n")

    assert codes == []
    assert found == LibraryFile(title="Shop", address="https://plans.example/")


@pytest.mark.parametrize(
    "written",
    [
        "plans.example",
        "ftp://plans.example/",
        "https://",
        "https://plans.example/?page=1",
        "https://plans.example/#top",
        'https://plans.example/"x"',
        "https://[1/",
    ],
)
def test_what_is_no_address_of_a_site_is_refused_on_its_line(tmp_path: Path, written: str) -> None:
    found, codes = _read(tmp_path, f"title: Shop\naddress: '{written}'\n")

    assert codes == ["D114"]
    assert found.address == ""


def test_a_library_without_a_file_has_a_plain_name_and_no_address(tmp_path: Path) -> None:
    assert read_library_file(tmp_path, ProblemLog()) == LibraryFile("Plan library", "", "")
