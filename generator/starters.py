"""A small design to begin with, written into the folder of designs."""

import re
from pathlib import Path

from generator.design.schema import SCHEMA_NAME, design_schema_json
from generator.files import write_file
from generator.pages.explanations import read_starter
from generator.targets import DESIGN_FILE

SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def write_starter(designs: Path, name: str, like: str) -> Path:
    """Write a small design that builds, as ``<designs>/<name>/design.yml``.

    Beside the folder goes the schema that its first line tells an editor of.

    Args:
        designs: Folder of design folders.
        name: Of the new one.
        like: One of `STARTERS`.

    Raises:
        ValueError: The name is no folder name of small letters, digits and hyphens, or is taken.
    """
    if not SLUG.fullmatch(name):
        raise ValueError(f"`{name}` is not a name: use small letters, digits and hyphens")
    path = designs / name / DESIGN_FILE
    if path.exists():
        raise ValueError(f"{path} is there already")
    title = name.replace("-", " ").capitalize()
    write_file(path, read_starter(like).replace("TITLE", title).encode())
    write_file(designs / SCHEMA_NAME, design_schema_json())
    return path
