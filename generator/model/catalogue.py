"""What can be bought and used: the entries of shared/."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.model.fixings import Bolt, Dowel, Screw
from generator.problems import Place
from generator.units import System


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A wood or panel material.

    Attributes:
        density_kg_m3: At 12 % moisture or as sold.
        stiffness_n_mm2: Modulus of elasticity in bending, along the grain.
        hard: Whether it is bored like a hardwood: pilot hole near the full root of the thread.
        source: Published source, or "common practice, no source".
    """

    key: str
    name: str
    density_kg_m3: float
    stiffness_n_mm2: float
    hard: bool
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """One size a sheet or a board is sold in, or an offcut that is there; length along the grain.

    Attributes:
        name: As it is sold, or what the maker calls the offcut.
        price: Of one, in the currency of the edition; None where nobody has said.
        at_most: How many can be had; None for as many as are wanted.
        is_owned: Whether it is an offcut that need not be bought.
    """

    name: str
    length_mm: float
    width_mm: float
    price: float | None = None
    at_most: int | None = None
    is_owned: bool = False

    @property
    def is_plain(self) -> bool:
        """Whether nothing is known but its size: no price, no limit, and not owned."""
        return self.price is None and self.at_most is None and not self.is_owned


def owned_size(name: str, size_mm: tuple[float, float], count: int) -> SheetSize:
    """Return an offcut that is there as a size of its sheet or board.

    Args:
        name: What it is called.
        size_mm: Length along the grain, and width.
        count: How many there are.
    """
    length_mm, width_mm = size_mm
    return SheetSize(
        name=name,
        length_mm=length_mm,
        width_mm=width_mm,
        price=0.0,
        at_most=count,
        is_owned=True,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A sheet good of one thickness, sold in one or more sizes.

    Attributes:
        system: The edition it is sold in.
        thickness_mm: As measured, not as named.
        trim_mm: Taken off every factory edge before anything is measured from it.
        has_grain: Whether its faces have a grain direction (its length).
        range_mm: The least and the greatest thickness such a sheet is sold with, where known.
    """

    key: str
    name: str
    system: System
    thickness_mm: float
    sizes: tuple[SheetSize, ...]
    trim_mm: float
    has_grain: bool
    material: Material
    source: str
    place: Place
    range_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """Solid wood of one section, planed, sold in one or more lengths.

    Attributes:
        system: The edition it is sold in.
        thickness_mm: As measured, not as named; of a rod its diameter, which is its width too.
        width_mm: The same.
        sizes: One for each length; the width is the same in all of them.
        trim_mm: Taken off both ends before anything is measured from them.
        is_round: Whether it is a rod.
    """

    key: str
    name: str
    system: System
    thickness_mm: float
    width_mm: float
    sizes: tuple[SheetSize, ...]
    trim_mm: float
    is_round: bool = False
    material: Material
    source: str
    place: Place

    @property
    def has_grain(self) -> bool:
        """Whether it has a grain direction: solid wood always has."""
        return True


@dataclass(frozen=True, slots=True, kw_only=True)
class Edging:
    """A tape that covers the bare edge of a panel.

    Attributes:
        system: The edition it is sold in.
        width_mm: It is trimmed flush with both faces, so it is wider than the edge.
        thickness_mm: What it adds to the edge.
    """

    key: str
    name: str
    system: System
    width_mm: float
    thickness_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool of the shop. Saws have a kerf and a greatest tilt, other tools have neither."""

    key: str
    name: str
    kerf_mm: float | None
    tilt_limit_deg: float | None
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """All entries of shared/, by key, in file order; with what a library says of its shop.

    Attributes:
        currency: What prices are told in, by edition; empty where no prices are known.
        prices_say: Where they come from.
    """

    sheets: Mapping[str, Sheet]
    boards: Mapping[str, Board]
    screws: Mapping[str, Screw]
    dowels: Mapping[str, Dowel]
    bolts: Mapping[str, Bolt]
    materials: Mapping[str, Material]
    tools: Mapping[str, Tool]
    edgings: Mapping[str, Edging] = field(default_factory=dict)
    currency: Mapping[System, str] = field(default_factory=dict)
    prices_say: str = ""
