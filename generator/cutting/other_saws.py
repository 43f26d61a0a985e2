"""The reader's saw: whether the layouts hold with another kerf, and what is sawn instead if not.

A fence is set to the size of a piece, so a layout is sawn with the same settings by any saw; what
changes is how much each cut takes. The layout holds where that leaves every blank its size.
"""

from collections.abc import Callable, Sequence

from generator.cutting.blanks import trim_of
from generator.cutting.layouts import NestedSheet
from generator.cutting.trees import NO_CUT, Axis, Leaf, Node, millimetres, ticks
from generator.model.cutting import Cutting, OtherSaw
from generator.units import MM_PER_INCH, System

USUAL_KERFS_MM: dict[System, tuple[float, ...]] = {
    "metric": (1.6, 2.4, 3.2),
    "imperial": (
        float(MM_PER_INCH / 16),
        float(3 * MM_PER_INCH / 32),
        float(MM_PER_INCH / 8),
    ),
}
"""Thin, middling and full blades of circular saws. Common practice, no source."""


def find_other_saws(
    sheets: Sequence[NestedSheet],
    kerf: int,
    cut: Callable[[int], Cutting | None],
    system: System,
) -> tuple[OtherSaw, ...]:
    """Return what each usual kerf changes.

    Args:
        sheets: Sheets and boards of the plan.
        kerf: The one they are laid out for, in ticks.
        cut: What is sawn with another kerf; asked for only where the plan's layouts do not hold.
        system: Decides which kerfs are usual.
    """
    found = []
    for kerf_mm in USUAL_KERFS_MM[system]:
        other = ticks(kerf_mm)
        holds = all(_holds(sheet, kerf, other) for sheet in sheets)
        cutting = None if holds else cut(other)
        found.append(OtherSaw(kerf_mm=kerf_mm, holds=holds, cutting=cutting))
    return tuple(found)


def _holds(sheet: NestedSheet, kerf: int, other: int) -> bool:
    """Whether a sheet gives its blanks with another kerf, cut by cut as it is laid out."""
    trim_mm = trim_of(sheet.stock.goods, millimetres(other))
    edge_trim_mm = trim_mm if sheet.stock.board is None else 0.0
    rooms = (
        ticks(sheet.size.length_mm - 2 * trim_mm),
        ticks(sheet.size.width_mm - 2 * edge_trim_mm),
    )
    axes: tuple[Axis, Axis] = ("x", "y")
    needs = [_need(sheet.tree, axis, kerf, other) for axis in axes]
    return all(need <= room + NO_CUT for need, room in zip(needs, rooms, strict=True))


def _need(node: Node, axis: Axis, kerf: int, other: int) -> int:
    """Return how much of the sheet a node needs along an axis, the kerf after it not included."""
    if isinstance(node, Leaf):
        return 0 if node.blank is None else node.box.extent(axis) - kerf
    kept = [child for child in node.children if not _is_waste(child)]
    needs = [_need(child, axis, kerf, other) for child in kept]
    if node.axis != axis:
        return max(needs, default=0)
    return sum(needs) + other * max(0, len(needs) - 1)


def _is_waste(node: Node) -> bool:
    return isinstance(node, Leaf) and node.blank is None
