"""The sizes the sample plan is made of."""

import math
from dataclasses import dataclass

from generator.units import System

LEAN_DEG = 12.0
LEAN = math.radians(LEAN_DEG)
POCKET = math.radians(15.0)
FILE = "designs/leaning-shelf/design.yml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What the sample is made of, in mm: overall sizes and where things stand."""

    width: float
    height: float
    depth: float
    thickness: float
    bottom_up: float
    shelf_up: float
    shelf_width: float
    clip: tuple[float, float]
    hole: float
    pocket_seat: float
    inset: float

    @property
    def inner(self) -> float:
        """Length between the sides."""
        return self.width - 2 * self.thickness

    @property
    def bevel(self) -> float:
        """How far the short point of a 12 degree bevel stands back from the long point."""
        return self.thickness * math.tan(LEAN)


def sizes_of(system: System) -> Sizes:
    """Return the sizes of the sample in one edition."""
    if system == "metric":
        return Sizes(
            width=600.0,
            height=400.0,
            depth=250.0,
            thickness=18.0,
            bottom_up=50.0,
            shelf_up=250.0,
            shelf_width=230.0,
            clip=(75.0, 50.0),
            hole=40.0,
            pocket_seat=18.0,
            inset=40.0,
        )
    inch = 25.4
    return Sizes(
        width=24 * inch,
        height=16 * inch,
        depth=10 * inch,
        thickness=23 / 32 * inch,
        bottom_up=2 * inch,
        shelf_up=10 * inch,
        shelf_width=9 * inch,
        clip=(3 * inch, 2 * inch),
        hole=1.5 * inch,
        pocket_seat=0.75 * inch,
        inset=1.5 * inch,
    )
