"""What goes onto the parts once they are sawn: edging, glue and finish, with amounts to buy."""

from dataclasses import dataclass

from generator.model.catalogue import Edging
from generator.model.hardware import FinishSpec, Mounted


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgingRun:
    """One edge of a part that is covered.

    Attributes:
        label: Of the part.
        edge: Its name; ``top front`` for a corner.
        edges: Indices of its stretches among the edges of the part.
        length_mm: Of one copy, on the longer face.
        count: Copies of the part.
    """

    label: str
    edge: str
    edges: tuple[int, ...]
    edging: Edging
    length_mm: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgingNeed:
    """All of one edging.

    Attributes:
        length_mm: On the edges.
        buy_mm: With what is trimmed off, in whole steps of a shop's measure.
    """

    edging: Edging
    runs: tuple[EdgingRun, ...]
    length_mm: float
    buy_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueNeed:
    """The glued contacts of a plan, and the glue that is spread on them."""

    area_mm2: float
    volume_mm3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishNeed:
    """One finish, where it goes and how much of it.

    Attributes:
        pieces: Names of the pieces it goes on.
        area_mm2: Of one coat.
        volume_mm3: Of all coats.
    """

    spec: FinishSpec
    pieces: tuple[str, ...]
    area_mm2: float
    volume_mm3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """All of it; glue is None where no joint is glued.

    Attributes:
        mounted: Hardware whose place is told, in the order of the design.
    """

    edgings: tuple[EdgingNeed, ...]
    glue: GlueNeed | None
    finishes: tuple[FinishNeed, ...]
    mounted: tuple[Mounted, ...] = ()
