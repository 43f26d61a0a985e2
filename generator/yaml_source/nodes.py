"""What a YAML file is here: words, lists of items, and entries under names; each with its place."""

from dataclasses import dataclass
from typing import TypeAlias

from generator.problems import Place


@dataclass(frozen=True, slots=True)
class Word:
    """A scalar, always text: `no` and `1:30` stay what was typed.

    Attributes:
        text: The value; folded into one line where YAML folds it.
        place: The first character of the text, inside the quotes if it is quoted.
    """

    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Items:
    """A list.

    Attributes:
        place: The opening bracket, or the first dash.
        owner: The key that holds the list; the list itself where no key does.
    """

    items: tuple["Node", ...]
    place: Place
    owner: Place


@dataclass(frozen=True, slots=True)
class Entries:
    """A mapping of names, in file order; no name is there twice.

    Attributes:
        place: The opening brace, or the first key.
        owner: The key that holds the mapping; the mapping itself where no key does.
    """

    entries: tuple[tuple[Word, "Node"], ...]
    place: Place
    owner: Place


Node: TypeAlias = Word | Items | Entries
