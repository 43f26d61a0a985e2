"""The reader's saw: whether the layouts hold with another kerf, and what is sawn instead if not.

A fence is set to the size of a piece, so a layout is sawn with the same settings by any saw; what
changes is how much each cut takes, and so how large the last piece is that nothing is measured on.
The layout holds where that is waste, or is sawn to size later, and no piece becomes too small.
"""

from collections.abc import Callable, Sequence

from generator.cutting.blanks import trim_of
from generator.cutting.layouts import NestedSheet
from generator.cutting.trees import NO_CUT, Leaf, Node, millimetres, ticks
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
    return _fits(sheet.tree, rooms, kerf, other)


def _fits(node: Node, rooms: tuple[int, int], kerf: int, other: int) -> bool:
    """Whether a piece of some size along x and y gives its blanks with the plan's settings."""
    if isinstance(node, Leaf):
        sizes = (node.box.along_x - kerf, node.box.along_y - kerf)
        pairs = zip(sizes, rooms, strict=True)
        return node.blank is None or all(abs(size - room) <= NO_CUT for size, room in pairs)
    way = 0 if node.axis == "x" else 1
    left = rooms[way]
    for child in node.children[:-1]:
        size = child.box.extent(node.axis) - kerf
        if size > left + NO_CUT or not _fits(child, _with(rooms, way, size), kerf, other):
            return False
        left -= size + other
    return _fits(node.children[-1], _with(rooms, way, left), kerf, other)


def _with(rooms: tuple[int, int], way: int, size: int) -> tuple[int, int]:
    return (size, rooms[1]) if way == 0 else (rooms[0], size)
