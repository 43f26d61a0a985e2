"""What holds parts together, as it is sold: screws, nails, dowels, and bolts with their inserts."""

from dataclasses import dataclass
from typing import Literal

from generator.units import System

ScrewKind = Literal["pocket screw", "face screw", "nail"]
Thread = Literal["coarse", "fine", ""]


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A screw or nail of one length.

    Attributes:
        diameter_mm: Of the shank.
        head_mm: Diameter of the head.
        length_mm: From the point to the seat of the head (pocket screw) or its top (countersunk).
        pilot_soft_mm: Bit for the pilot hole in softwood and panels.
        pilot_hard_mm: Bit for the pilot hole in hardwood.
        clearance_mm: Bit for the hole in the first board; for pocket screws the pocket's bore; for
            nails, which have one hole through both boards, only their shank.
        least_mm: Thinnest first board it is meant for.
        most_mm: Thickest first board it is meant for.
        thread: Of pocket screws; "" where the trade makes no difference.
        packs: How many are sold together, the least first.
    """

    key: str
    name: str
    kind: ScrewKind
    system: System
    diameter_mm: float
    head_mm: float
    length_mm: float
    pilot_soft_mm: float
    pilot_hard_mm: float
    clearance_mm: float
    least_mm: float
    most_mm: float
    thread: Thread
    packs: tuple[int, ...]
    source: str

    @property
    def word(self) -> str:
        """What it is in one word: a screw or a nail."""
        return "nail" if self.kind == "nail" else "screw"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dowel:
    """A fluted dowel pin of one length; its diameter is that of the bit."""

    key: str
    name: str
    system: System
    diameter_mm: float
    length_mm: float
    packs: tuple[int, ...]
    source: str

    @property
    def kind(self) -> str:
        """What it is, for programs."""
        return "dowel"

    @property
    def word(self) -> str:
        """What it is in one word."""
        return "dowel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """A threaded insert: a sleeve that is screwed into wood and takes a bolt.

    Attributes:
        length_mm: How deep it sits.
        bit_soft_mm: Bit for its hole in softwood and soft panels.
        bit_hard_mm: Bit for its hole in hardwood, birch plywood and MDF.
    """

    name: str
    length_mm: float
    bit_soft_mm: float
    bit_hard_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolt:
    """A machine bolt of one length, with its washers and the insert or nut it goes into.

    Attributes:
        length_mm: Under the head.
        clearance_mm: Bit for the hole in the first board.
        washer_mm: Diameter of the washer.
        washer_thick_mm: Its thickness.
        washer: What it is called.
        nut: What its nut is called.
        nut_thick_mm: How thick the nut is.
        packs: How many of each are sold together, the least first.
    """

    key: str
    name: str
    system: System
    diameter_mm: float
    length_mm: float
    clearance_mm: float
    washer: str
    washer_mm: float
    washer_thick_mm: float
    nut: str
    nut_thick_mm: float
    insert: Insert
    packs: tuple[int, ...]
    source: str

    @property
    def kind(self) -> str:
        """What it is, for programs."""
        return "bolt"

    @property
    def word(self) -> str:
        """What it is in one word."""
        return "bolt"


Fixing = Screw | Dowel | Bolt
