"""What it took in tests to pull a screw or nail out of solid wood: the Wood Handbook's formulas.

They give the average load at which fasteners came straight out of the side grain. It is no load to
count on: design codes allow about a fifth of it. No figure is given for what the formulas were not
made for: panels, end grain, pocket screws, dowels and bolts.
"""

from typing import Final

from generator.joinery.drive import Drive
from generator.model.fixings import Screw

DRY_MOISTURE: Final = 0.12
"""The densities of the catalogue are those of wood at 12 % moisture."""

SCREW_N_MM2: Final = 108.25
"""Wood Handbook (FPL-GTR-190), chapter 8: wood screws; 15 700 in pounds and inches; from memory."""

NAIL_N_MM2: Final = 54.12
"""The same for bright common nails, 7 850 in pounds and inches; quoted."""

THREAD_SHARE: Final = 2 / 3
"""The thread of a wood screw runs over two thirds of its length: common practice, no source."""


def specific_gravity(density_kg_m3: float, moisture: float = DRY_MOISTURE) -> float:
    """Return oven-dry mass by volume at a moisture, water being 1 (Wood Handbook, chapter 4)."""
    return density_kg_m3 / (1000.0 * (1.0 + moisture))


def screw_pull_n(gravity: float, diameter_mm: float, thread_mm: float) -> float:
    """Return the average pull that tore wood screws out of side grain, by thread in the wood."""
    return SCREW_N_MM2 * gravity**2 * diameter_mm * thread_mm


def nail_pull_n(gravity: float, diameter_mm: float, depth_mm: float) -> float:
    """Return the average pull that drew bright common nails out of side grain, by their depth."""
    return float(NAIL_N_MM2 * gravity**2.5 * diameter_mm * depth_mm)


def find_pull_n(drive: Drive) -> float | None:
    """Return the average pull on a fastener in tests; None where no formula was made for it."""
    goods, part, side = drive.goods, drive.second.part, drive.contact.second_side
    if not isinstance(goods, Screw) or part.stock.board is None:
        return None
    if side >= 0 and part.edges[side].kind != "edge":
        return None
    gravity = specific_gravity(part.stock.material.density_kg_m3)
    depth = goods.length_mm - drive.axis.seat_mm
    if goods.kind == "nail":
        return nail_pull_n(gravity, goods.diameter_mm, depth)
    if goods.kind == "face screw":
        thread = min(depth, THREAD_SHARE * goods.length_mm)
        return screw_pull_n(gravity, goods.diameter_mm, thread)
    return None
