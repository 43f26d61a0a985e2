"""Which screw of the catalogue a joint gets."""

import math

from generator.joinery.contacts import PlacedPiece
from generator.joinery.drive import Axis, Cover, measure_cover
from generator.joinery.rules import (
    COVER_MM,
    EDGE_HOLD_SHARE,
    FACE_LENGTH_FACTOR,
    FLAT_HOLD_SHARE,
    NAIL_LENGTH_FACTOR,
    POCKET_COVER_MM,
    POCKET_HOLD_MM,
    SCREW_GAUGE_SHARE,
)
from generator.model.edition import Edition
from generator.model.fixings import Screw, ScrewKind, Thread
from generator.model.parts import Part

SCREW_KINDS: dict[str, ScrewKind] = {
    "pocket screws": "pocket screw",
    "face screws": "face screw",
    "nails": "nail",
}


def find_screws(
    edition: Edition, kind: ScrewKind, thickness_mm: float, second: Part
) -> tuple[Screw, ...]:
    """Return the screws of a kind, those meant for a first board of a thickness before others.

    Nothing where the catalogue has none meant for that thickness; shorter first otherwise. Pocket
    screws have the thread that suits the second part, which holds it.
    """
    thread = needed_thread(second)
    of_kind = [
        screw
        for screw in edition.catalogue.screws.values()
        if screw.system == edition.system and screw.kind == kind and screw.thread in {"", thread}
    ]
    of_kind.sort(key=lambda screw: (screw.length_mm, screw.diameter_mm))
    meant = [screw for screw in of_kind if is_meant(screw, thickness_mm)]
    return (*meant, *(screw for screw in of_kind if screw not in meant)) if meant else ()


def needed_thread(part: Part) -> Thread:
    """Return the thread that holds in a part: fine in hardwood, coarse in softwood and panels.

    Common practice, no source.
    """
    is_hardwood = part.stock.board is not None and part.stock.material.hard
    return "fine" if is_hardwood else "coarse"


def is_meant(screw: Screw, thickness_mm: float) -> bool:
    """Whether a screw is sold for a first board of a thickness."""
    return screw.least_mm <= thickness_mm <= screw.most_mm


def needed_cover_mm(screw: Screw) -> float:
    """Return the wood needed between the point of a screw and the far face."""
    return POCKET_COVER_MM if screw.kind == "pocket screw" else COVER_MM


def needed_hold_mm(screw: Screw, entry_side: int) -> float:
    """Return how deep a screw must stand in the second piece, which it enters by a side."""
    if screw.kind == "pocket screw":
        return POCKET_HOLD_MM
    return screw.length_mm * (EDGE_HOLD_SHARE if entry_side >= 0 else FLAT_HOLD_SHARE)


def left_ahead_mm(screw: Screw, axis: Axis, cover: Cover) -> float:
    """Return how much wood is left, square to the far face, before the point of a screw."""
    return (cover.ahead_mm - (screw.length_mm - axis.seat_mm)) * cover.slant


def choose_screw(
    screws: tuple[Screw, ...],
    first_mm: float,
    second: PlacedPiece,
    entry_side: int,
    axis: Axis,
    most_mm: float = math.inf,
) -> Screw:
    """Return the screw that suits best; where none fits, the one that comes nearest.

    Screws meant for the first board are tried before others. Pocket screws: the longest that ends
    inside. Face screws: into an edge no thicker than `SCREW_GAUGE_SHARE` of the board; the
    shortest of at least `FACE_LENGTH_FACTOR` times the first board that ends inside, else the
    longest that ends inside. Nails in the same way, by `NAIL_LENGTH_FACTOR`. None is thicker than
    ``most_mm`` where one is left.
    """
    thin = second.part.thickness_mm * SCREW_GAUGE_SHARE if entry_side >= 0 else math.inf
    slim = [s for s in screws if s.diameter_mm <= min(thin, most_mm)]
    pool = slim if slim else list(screws)
    meant = [s for s in pool if is_meant(s, first_mm)]
    for group in (meant, pool):
        inside = [s for s in group if _fits(s, second, entry_side, axis)]
        if inside:
            return _best_length(inside, axis)
    return meant[0] if meant else pool[0]


def _best_length(inside: list[Screw], axis: Axis) -> Screw:
    if inside[0].kind == "pocket screw":
        return max(inside, key=lambda s: (s.length_mm, s.diameter_mm))
    is_nail = inside[0].kind == "nail"
    wanted = axis.seat_mm * (NAIL_LENGTH_FACTOR if is_nail else FACE_LENGTH_FACTOR)
    long = [s for s in inside if s.length_mm >= wanted]
    if long:
        return min(long, key=lambda s: (s.length_mm, -s.diameter_mm))
    return max(inside, key=lambda s: (s.length_mm, s.diameter_mm))


def _fits(screw: Screw, second: PlacedPiece, entry_side: int, axis: Axis) -> bool:
    depth = screw.length_mm - axis.seat_mm
    cover = measure_cover(second, entry_side, axis, depth)
    holds = depth >= needed_hold_mm(screw, entry_side)
    return holds and left_ahead_mm(screw, axis, cover) >= needed_cover_mm(screw)
