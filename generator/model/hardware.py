"""What is fitted to pieces and put on them: hardware and where it goes, and finishes, as told."""

from dataclasses import dataclass

from generator.geometry.vectors import Vec2
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where one piece of hardware goes, as told.

    Attributes:
        piece: Name of the piece it is fitted to.
        face: Name of the face it sits on.
        distances: From each of two edges (by name) to its middle, in mm.
    """

    piece: str
    face: str
    distances: tuple[tuple[str, float], tuple[str, float]]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareSpec:
    """Hardware of one kind, as told.

    Attributes:
        name: The key under ``hardware``.
        item: What it is.
        pieces: Names of the pieces it is fitted to.
        spots: Where; none where only the number of it is told.
        count: How many there are in all.
        screw: Name of the screws that hold it, or "".
        screws: How many of them hold one.
        screw_mm: How long they are; 0 where none are told.
        is_anchor: Whether it holds the whole to a wall.
    """

    name: str
    item: str
    pieces: tuple[str, ...]
    spots: tuple[Spot, ...]
    count: int
    screw: str
    screws: int
    screw_mm: float
    is_anchor: bool
    note: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Mounted:
    """One piece of hardware in its place on a piece.

    Attributes:
        name: Of the hardware.
        item: What it is.
        piece: The piece it sits on.
        side: `FACE_A` or `FACE_B` of its part.
        at: Its middle, in x and y of the part's frame.
        distances: Edges of the part by index, and how far it is from the line of each on that face.
    """

    name: str
    item: str
    piece: str
    side: int
    at: Vec2
    distances: tuple[tuple[int, float], tuple[int, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishSpec:
    """Something that is brushed or wiped on, as told.

    Attributes:
        item: What it is.
        coats: How many.
        coverage_per_mm: Area of one coat by volume, mm² by mm³.
        pieces: Names of the pieces it goes on; none for all that no other finish names.
    """

    item: str
    coats: int
    coverage_per_mm: float
    pieces: tuple[str, ...]
