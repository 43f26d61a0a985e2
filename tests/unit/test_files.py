"""Writing into place."""

from pathlib import Path

import pytest

from generator.files import remove_others, replace_folder, write_file, write_files


def test_an_unchanged_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b.txt"
    first = write_file(path, b"one")
    before = path.stat().st_mtime_ns
    second = write_file(path, b"one")

    assert (first, second) == (True, False)
    assert path.stat().st_mtime_ns == before


def test_a_changed_file_is_replaced_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    write_files(tmp_path, {"b.txt": b"one"})

    assert write_files(tmp_path, {"b.txt": b"two", "c/d.txt": b"three"}) == 2
    assert (tmp_path / "b.txt").read_bytes() == b"two"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["b.txt", "c"]


def test_a_file_that_cannot_be_written_leaves_the_old_one(tmp_path: Path) -> None:
    write_file(tmp_path / "b.txt", b"one")
    (tmp_path / ".b.txt.aside").mkdir()
    with pytest.raises(OSError, match="aside"):
        write_file(tmp_path / "b.txt", b"two")

    assert (tmp_path / "b.txt").read_bytes() == b"one"


def test_files_no_longer_made_are_deleted_with_their_empty_folders(tmp_path: Path) -> None:
    write_files(tmp_path, {"keep/a.txt": b"", "old/b.txt": b"", "c.txt": b""})

    assert remove_others(tmp_path, ["keep/a.txt"]) == ("c.txt", "old/b.txt")
    assert [path.name for path in tmp_path.iterdir()] == ["keep"]


def test_nothing_is_deleted_where_the_folder_is_missing(tmp_path: Path) -> None:
    assert remove_others(tmp_path / "none", []) == ()


def test_a_finished_folder_takes_the_place_of_the_old_one(tmp_path: Path) -> None:
    write_files(tmp_path, {"site/old.html": b"", "new/index.html": b""})
    replace_folder(tmp_path / "site", tmp_path / "new")

    assert [path.name for path in tmp_path.iterdir()] == ["site"]
    assert [path.name for path in (tmp_path / "site").iterdir()] == ["index.html"]
