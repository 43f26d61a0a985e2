"""The file library.yml beside the designs: what the library is called."""

from dataclasses import dataclass
from pathlib import Path

from generator.problems import ProblemLog
from generator.yaml_source.getters import MappingReader, find_entries
from generator.yaml_source.parse import parse_yaml

LIBRARY_FILE = "library.yml"


@dataclass(frozen=True, slots=True)
class LibraryFile:
    """The name of a library and a sentence about it."""

    title: str = "Plan library"
    says: str = ""


def read_library_file(folder: Path, log: ProblemLog) -> LibraryFile:
    """Return what library.yml says; the plain name where there is no such file."""
    path = folder / LIBRARY_FILE
    if not path.is_file():
        return LibraryFile()
    root = parse_yaml(path.read_bytes(), str(path), log)
    entries = None if root is None else find_entries(root, log)
    if entries is None:
        return LibraryFile()
    reader = MappingReader(entries, log)
    found = LibraryFile(title=reader.required_text("title") or "", says=reader.text("says"))
    reader.finish()
    return found
