"""What to ask for where the sheets are bought: cuts with their sizes, and the pieces they give."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from generator.cutting.layouts import KEEP_MM, NestedSheet
from generator.cutting.shop_cuts import AXES, Room, Way, find_way
from generator.cutting.trees import NO_CUT, Axis, Box, leaves, millimetres, ticks
from generator.geometry.tolerance import SAME_POINT_MM
from generator.geometry.vectors import Vec2
from generator.model.cutting import CarPiece, Layout, ShopCut, ShopList
from generator.model.workshop import Car
from generator.units import MM_PER_INCH, System

USUAL_CARS: dict[System, tuple[Car, ...]] = {
    "metric": (
        Car(name="a small car", length_mm=1250.0, width_mm=800.0),
        Car(name="an estate car", length_mm=1800.0, width_mm=1000.0),
    ),
    "imperial": (
        Car(
            name="a small car",
            length_mm=float(48 * MM_PER_INCH),
            width_mm=float(32 * MM_PER_INCH),
        ),
        Car(
            name="a station wagon",
            length_mm=float(72 * MM_PER_INCH),
            width_mm=float(40 * MM_PER_INCH),
        ),
    ),
}
"""What lies flat in a car with its seats down. Common practice, no source."""


def list_shop_cuts(
    sheets: Sequence[NestedSheet],
    layouts: Sequence[Layout],
    kerf: int,
    own: Car | None,
    system: System,
) -> tuple[ShopList, ...]:
    """Return what to ask for at the shop: for the maker's car first, then for the usual ones.

    Args:
        sheets: The sheets with their cut trees.
        layouts: The same sheets as the plan tells of them.
        kerf: Of the saw, in ticks; the shop's saw takes no more.
        own: The car the maker names.
        system: Decides the usual cars, and which offcuts are worth keeping.
    """
    cars = (*(() if own is None else (own,)), *USUAL_CARS[system])
    return tuple(_make_list(car, sheets, layouts, kerf, system) for car in cars if sheets)


def _make_list(
    car: Car, sheets: Sequence[NestedSheet], layouts: Sequence[Layout], kerf: int, system: System
) -> ShopList:
    """Return the list for a car; where a blank is larger, for the least car that takes it too."""
    told = _tell(car, sheets, layouts, kerf, system)
    large = [piece for piece in told.pieces if piece.labels and not piece.fits]
    if not large:
        return ShopList(car=car, taker=car, cuts=tuple(told.cuts), pieces=tuple(told.pieces))
    taker = replace(
        car,
        length_mm=max(car.length_mm, *(max(one.length_mm, one.width_mm) for one in large)),
        width_mm=max(car.width_mm, *(min(one.length_mm, one.width_mm) for one in large)),
    )
    told = _tell(taker, sheets, layouts, kerf, system)
    return ShopList(
        car=car,
        taker=taker,
        too_large=tuple(dict.fromkeys(label for one in large for label in one.labels)),
        cuts=tuple(told.cuts),
        pieces=tuple(told.pieces),
    )


@dataclass(slots=True)
class _Told:
    """What has been said of the sheets so far; never leaves this module."""

    cuts: list[ShopCut] = field(default_factory=list)
    pieces: list[CarPiece] = field(default_factory=list)


def _tell(
    car: Car, sheets: Sequence[NestedSheet], layouts: Sequence[Layout], kerf: int, system: System
) -> _Told:
    narrow, long = KEEP_MM[system]
    told = _Told()
    for sheet, layout in zip(sheets, layouts, strict=True):
        room = Room(
            root=sheet.tree.box,
            trim=ticks(sheet.trim_mm),
            edge_trim=ticks(sheet.edge_trim_mm),
            kerf=kerf,
            car=(ticks(car.length_mm), ticks(car.width_mm)),
            keep=(ticks(long), ticks(narrow)),
        )
        _tell_sheet(sheet, layout, room, told)
    return told


def _tell_sheet(sheet: NestedSheet, layout: Layout, room: Room, told: _Told) -> None:
    """Add cuts and pieces of one sheet; all cuts of a piece before those of what comes off it."""
    names = _names(sheet.number)
    waiting = [(find_way(sheet.tree, room), sheet.tree.box, sheet.word)]
    while waiting:
        way, box, name = waiting.pop(0)
        if not way.runs:
            told.pieces.append(_piece(sheet, room, box, name))
        runs = [(inner, run, "" if _is_dust(run, room) else next(names)) for run, inner in way.runs]
        rest, last = box, runs[-1][2] if runs else ""
        for position, (_, run, word) in enumerate(runs[:-1]):
            start, end = _line(run, rest, way, room)
            told.cuts.append(
                ShopCut(
                    order=len(told.cuts) + 1,
                    sheet=sheet.number,
                    kind="rip" if way.axis == "y" else "crosscut",
                    size_mm=millimetres(room.size(run)[AXES.index(way.axis)]),
                    start=start,
                    end=end,
                    of=name,
                    gives=(word, last) if last and position == len(runs) - 2 else (word,),
                    replaces=_find_cut(layout, start, end),
                )
            )
            rest = _without(rest, run, way.axis)
        waiting += [run for run in runs if run[2]]


def _is_dust(run: Box, room: Room) -> bool:
    """Whether the blade leaves nothing of what lies beside its last cut."""
    return min(room.size(run)) <= NO_CUT


def _names(sheet: int) -> Iterator[str]:
    """Yield names for the pieces of a sheet: after 1z comes 1aa."""
    count = 0
    while True:
        count += 1
        word, rest = "", count
        while rest:
            rest, letter = divmod(rest - 1, 26)
            word = chr(ord("a") + letter) + word
        yield f"{sheet}{word}"


def _line(run: Box, rest: Box, way: Way, room: Room) -> tuple[Vec2, Vec2]:
    """Return the middle of the kerf beside a run, from edge to edge of what it comes off."""
    low, high = room.corners(rest)
    index = AXES.index(way.axis)
    at = round(millimetres(2 * room.corners(run)[1][index] + room.kerf) / 2, 6)
    first, last = millimetres(low[1 - index]), millimetres(high[1 - index])
    return ((first, at), (last, at)) if way.axis == "y" else ((at, first), (at, last))


def _without(rest: Box, run: Box, axis: Axis) -> Box:
    gone = run.extent(axis)
    return rest.slice(axis, gone, rest.extent(axis) - gone)


def _find_cut(layout: Layout, start: Vec2, end: Vec2) -> int:
    """Return the number of the plan's cut on a line; 0 where only the shop makes it."""
    across = 0 if start[0] == end[0] else 1
    along = 1 - across
    for cut in layout.cuts:
        off = max(abs(cut.start[across] - start[across]), abs(cut.end[across] - start[across]))
        middle = (cut.start[along] + cut.end[along]) / 2
        if cut.kind != "trim" and off <= SAME_POINT_MM and start[along] <= middle <= end[along]:
            return cut.order
    return 0


def _piece(sheet: NestedSheet, room: Room, box: Box, name: str) -> CarPiece:
    length, width = room.size(box)
    labels = [
        sheet.blanks[leaf.blank].label
        for leaf in leaves(sheet.tree)
        if leaf.blank is not None and _is_in(leaf.box, box)
    ]
    return CarPiece(
        name=name,
        sheet=sheet.number,
        length_mm=millimetres(length),
        width_mm=millimetres(width),
        labels=tuple(labels),
        fits=room.fits(box),
        is_kept=bool(labels) or room.is_kept(box),
    )


def _is_in(one: Box, other: Box) -> bool:
    return other.x <= one.x < other.x + other.along_x and other.y <= one.y < other.y + other.along_y
