"""What a part is cut against and how it is worked, as written: edges, corners, cuts, openings."""

from dataclasses import dataclass

from generator.formula.tree import Formula
from generator.model.edition import Direction, OpeningKind, RecessKind
from generator.problems import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Reference:
    """A part, piece, face or plane by name: ``side.left``, ``tray_front[tray]``, ``back.front``.

    Attributes:
        index: The numbers in brackets, None for a ``*``; empty where there are no brackets.
        dotted: The words after the dots.
    """

    name: str
    index: tuple[Formula | None, ...]
    dotted: tuple[str, ...]
    text: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class AgainstSource:
    """``against side.left``."""

    target: Reference
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class IntoSource:
    """``into side.left by 1/4 in, stopped 1 in from front``.

    Attributes:
        depth: How deep it stands in the face.
        stops: Edges of the other piece that the channel stays away from, and how far.
    """

    target: Reference
    depth: Formula
    stops: tuple[tuple[Direction, Formula], ...]
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class MitreSource:
    """``mitre with side.left``."""

    target: Reference
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class BevelSource:
    """``bevel 10 deg, long on top``."""

    angle: Formula
    long_face: Direction
    place: Place


EdgeSource = AgainstSource | IntoSource | MitreSource | BevelSource


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSource:
    """``top front: clip 10 in down by 9 in back``, the same with ``notch``, or ``round 1 in``.

    Attributes:
        legs: Direction away from the corner and length, for a clip or a notch.
        radius: For a round.
    """

    edges: tuple[Direction, Direction]
    legs: tuple[tuple[Direction, Formula], tuple[Direction, Formula]] | None
    radius: Formula | None
    is_notch: bool = False
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class RecessSource:
    """``{arch: [span, rise], in: bottom, from left: 2 in}`` or the same with ``notch``."""

    kind: RecessKind
    sizes: tuple[Formula, Formula]
    edge: Direction
    start: tuple[Direction, Formula] | None
    place: Place
    when: Formula | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningSource:
    """A hole (one size), a slot or a cut-out (length and width)."""

    kind: OpeningKind
    sizes: tuple[Formula, ...]
    radius: Formula | None
    along: Direction | None
    distances: tuple[tuple[Direction, Formula], tuple[Direction, Formula]]
    place: Place
    when: Formula | None = None
