"""Strength: what parts carry, how far they sag under it, and what it takes to tip the piece."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from generator.formula.tree import Formula
from generator.problems import Place

Per = Literal["", "m", "sq m"]
"""A load is told for the whole part, by the metre of its length, or by the area of its face."""

Ends = Literal["both ends", "one end"]

MOST_SAG = Fraction(1, 144)
"""Of the span. Source: Architectural Woodwork Standards (2009), 1.2.21.3.1.1, for shelves."""


SPOT_INSIDE_MM = 50.0
"""Nobody stands or sits on the last line of a board: a load presses this far inside its edge.

Our judgement: half the width of a foot.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSource:
    """``25 lb per ft``, ``80 kg on one spot``: what a part carries, as written.

    Attributes:
        unit_mm: The length, or the side of the square, that ``per`` is told for; 1 where it is "".
    """

    mass: Formula
    per: Per
    unit_mm: Fraction
    on_spot: bool
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """What a part carries, in one edition.

    Attributes:
        mass_kg: In all, by the metre or by the square metre.
        on_spot: Whether it presses on one spot, as a person does who stands there, and comes and
            goes; else it is spread evenly and stays.
        most_sag: The most the part may sag under it, as a share of the span.
    """

    mass_kg: float
    per: Per
    on_spot: bool
    most_sag: Fraction
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Sag:
    """How far one piece sags where it does so most.

    Attributes:
        piece: Its name.
        load_kg: On the span, with the weight of the span itself.
        span_mm: Between two supports, or how far it stands out over the last one.
        sag_mm: After years for what stays on it, at once for what stands on one spot.
        allowed_mm: The most it may be.
        strips: Names of pieces fixed along it that stiffen it and are counted.
    """

    piece: str
    load: Load
    load_kg: float
    ends: Ends
    span_mm: float
    thickness_mm: float
    sag_mm: float
    allowed_mm: float
    strips: tuple[str, ...]

    @property
    def share(self) -> float:
        """Return how much of what is allowed is used; above 1 it sags too far."""
        return self.sag_mm / self.allowed_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Unjudged:
    """A piece that carries something, and why nothing can be said of how far it sags."""

    piece: str
    why: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Tipping:
    """What it takes to tip a piece that nothing else holds, over the edge it tips most easily.

    Attributes:
        way: The side it falls to: ``front``, ``left`` …
        inside_mm: How far its centre of mass is behind that edge; below 0 it falls by itself.
        push_n: The level push at its top that lifts the other side.
        push_at_mm: How high its top is.
        tilt_deg: How far the floor may lean before it falls.
    """

    way: str
    inside_mm: float
    push_n: float
    push_at_mm: float
    tilt_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A load on one spot of a piece, where it tips the whole most easily.

    Attributes:
        beyond_mm: How far the spot is outside the base; below 0 it presses within.
        needed_mm: How far outside it may be before the whole tips.
    """

    piece: str
    load: Load
    way: str
    beyond_mm: float
    needed_mm: float

    @property
    def is_safe(self) -> bool:
        """Whether the whole stays on its base under it."""
        return self.beyond_mm <= self.needed_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """Everything that is worked out of loads.

    Attributes:
        stands: ``freely``, ``fixed`` to a wall, or ``hung`` on one.
        sags: The worst piece of every part that carries something.
        tipping: None where the piece is hung on a wall; until it is fixed to one it can tip.
        steps: None where it is fixed to a wall or hung on one.
    """

    stands: str = "freely"
    sags: tuple[Sag, ...] = ()
    unjudged: tuple[Unjudged, ...] = ()
    tipping: Tipping | None = None
    steps: tuple[Step, ...] = ()
