"""What a key of a design file is: its name, what may stand under it, a sentence and an example.

The table itself stands in `key_tables`; the published schema and the reference of the guide are
made from it, and the tests hold it to the keys the readers ask for, in both directions.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

ANY_NAME = r"^[a-z][a-z0-9_]*$"
"""The names makers give; as `phrases.NAME` reads them."""


@dataclass(frozen=True, slots=True)
class Text:
    """Words, such as a title.

    Attributes:
        prose: Whether ``{formula}`` in it is replaced by its value.
    """

    prose: bool = False


@dataclass(frozen=True, slots=True)
class Value:
    """A formula whose value is of this kind."""

    kind: Literal["length", "angle", "number", "condition", "value"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Phrase:
    """A small sentence of the language.

    Attributes:
        means: What it says, such as ``a turn``.
        pattern: What every such sentence looks like; the reader is stricter.
    """

    means: str
    pattern: str = "."


@dataclass(frozen=True, slots=True)
class Many:
    """A list.

    Attributes:
        of: What each item is.
        or_one: Whether one item may stand alone, without a list.
        least: The fewest items.
        most: The most items; None where the readers' own limits are the only ones.
    """

    of: "Shape"
    or_one: bool = False
    least: int = 0
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Named:
    """A mapping of names.

    Attributes:
        of: What stands under each name.
        names: The only names there are, or a pattern they follow.
        called: What the names are names of.
    """

    of: "Shape"
    called: str
    names: tuple[str, ...] | str = ANY_NAME


@dataclass(frozen=True, slots=True)
class Inside:
    """A mapping with keys of its own: the record of this name."""

    record: str


@dataclass(frozen=True, slots=True)
class Either:
    """One of several shapes."""

    shapes: tuple["Shape", ...]


Shape: TypeAlias = Text | Value | Choice | Phrase | Many | Named | Inside | Either


@dataclass(frozen=True, slots=True)
class Key:
    """One key.

    Attributes:
        name: As it is written.
        shape: What may stand under it.
        says: One sentence for makers.
        example: Lines with this key, and others where it needs them, as they stand in a record.
        needed: Whether it must be there.
    """

    name: str
    shape: Shape
    says: str
    example: str
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Record:
    """The keys that may stand together in one mapping.

    Attributes:
        name: For `Inside`.
        title: The heading in the guide.
        says: One sentence about the whole.
        keys: In the order the guide lists them.
    """

    name: str
    title: str
    says: str
    keys: tuple[Key, ...]


def list_shapes(shape: Shape) -> tuple[Shape, ...]:
    """Return a shape with every shape that stands in it."""
    match shape:
        case Many(of) | Named(of):
            return (shape, *list_shapes(of))
        case Either(shapes):
            return (shape, *(inner for one in shapes for inner in list_shapes(one)))
        case _:
            return (shape,)
