"""Lifting: what the pieces weigh that a sheet is first sawn into."""

from collections.abc import Sequence

from generator.cutting.layouts import NestedSheet
from generator.cutting.trees import Leaf, millimetres
from generator.model.cutting import Lifting
from generator.units import KG_PER_POUND, System

LIMIT_KG: dict[System, float] = {"metric": 25.0, "imperial": 50 * float(KG_PER_POUND)}
"""What one person should lift, close to the body and with good hold. Common practice, no source;
guidance on handling by hand names about the same (HSE INDG143: 25 kg for men, 16 kg for women at
waist height; from memory)."""


def find_lifting(sheets: Sequence[NestedSheet], kerf_mm: float, system: System) -> Lifting | None:
    """Return what is lifted while sheets are broken down; None where there are none.

    A sheet is sawn where it lies, so what is lifted is what the cuts through the sheet itself
    free; every later piece is a part of one of those.
    """
    if not sheets:
        return None
    heaviest = max(_heaviest_kg(sheet, kerf_mm) for sheet in sheets)
    return Lifting(limit_kg=LIMIT_KG[system], piece_kg=heaviest)


def _heaviest_kg(sheet: NestedSheet, kerf_mm: float) -> float:
    pieces = (sheet.tree,) if isinstance(sheet.tree, Leaf) else sheet.tree.children
    area_mm2 = max(
        (millimetres(piece.box.along_x) - kerf_mm) * (millimetres(piece.box.along_y) - kerf_mm)
        for piece in pieces
    )
    goods = sheet.stock.goods
    return area_mm2 * goods.thickness_mm * goods.material.density_kg_m3 / 1e9
