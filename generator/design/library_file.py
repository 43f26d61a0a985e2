"""The file library.yml: the name of a library, where it is published, its shop and offcuts."""

from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from generator.design.read_shop import read_shop
from generator.model.shop import ShopSource
from generator.problems import ProblemLog
from generator.yaml_source.getters import MappingReader, find_entries
from generator.yaml_source.nodes import Word
from generator.yaml_source.parse import parse_yaml

LIBRARY_FILE = "library.yml"
NO_SHOP = ShopSource()


@dataclass(frozen=True, slots=True)
class LibraryFile:
    """What is said of a library.

    Attributes:
        title: Its name.
        says: A sentence about it.
        address: Where its site is published, ending in ``/``; empty where nobody says.
        shop: Prices, what the shop has, and offcuts that are there.
    """

    title: str = "Plan library"
    says: str = ""
    address: str = ""
    shop: ShopSource = NO_SHOP


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
    address = reader.word("address")
    found = LibraryFile(
        title=reader.required_text("title") or "",
        says=reader.text("says"),
        address="" if address is None else _address(address, log),
        shop=read_shop(reader, log),
    )
    reader.finish()
    return found


def _address(word: Word, log: ProblemLog) -> str:
    """Return a web address with ``/`` at its end; D114 where the text is none."""
    text = word.text.strip()
    try:
        parts = urlsplit(text)
        is_web = parts.scheme in {"http", "https"} and bool(parts.hostname)
    except ValueError:
        is_web = False
    if not is_web or parts.query or parts.fragment or set(text) & set(" \"'<>"):
        hint = "write it like https://plans.example/"
        log.add("D114", word.place, text=text, expected="a web address", hint=hint)
        return ""
    return f"{text.rstrip('/')}/"
