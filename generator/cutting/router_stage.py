"""Sheets for a router: outlines beside outlines a bit apart, on no more sheets than the saw needs.

If no order of laying gets along with the sheets of the saw, each of its sheets is filled with what
is sawn from it; only where the bit's width leaves no room for that, another sheet is added.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from generator.cutting.blanks import trim_of
from generator.cutting.router_fill import Kinds, Lying, Room, fill, settle
from generator.cutting.router_outlines import Routed, make_routed, needs_bevels, place_part
from generator.cutting.router_strip import find_strip
from generator.geometry.tolerance import ROUNDING, SAME_POINT_MM
from generator.model.catalogue import SheetSize
from generator.model.cutting import Layout, Placement, RouterLayout
from generator.model.edition import Stock
from generator.model.parts import Parts
from generator.model.workshop import RouterWork

MOST_ROUTED = 200
"""More outlines of one stock are not laid: nobody routes as many from one plan."""

MOST_TIGHTENED = 24
"""A last sheet with more outlines is left as it is: the search would take too long."""

TIGHTEN_EFFORT = 4e7
"""Cells looked at to shorten what is used of a last sheet: about a tenth of a second."""

SQUEEZE_EFFORT = 2e8
"""Cells looked at to get on one sheet what the saw gets from it: half a second."""

LINES_ACROSS = 96
"""Of the grid of that search."""


@dataclass(frozen=True, slots=True)
class _Job:
    """The outlines of one stock, the sheets of the saw, and how the bit narrows them."""

    routed: tuple[Routed, ...]
    kinds: Kinds
    sawn: tuple[Layout, ...]
    work: RouterWork
    border_mm: float

    @property
    def offset_mm(self) -> float:
        """Where the least x and y of spaced shapes begin on a sheet."""
        return self.border_mm - self.work.apart_mm / 2 - SAME_POINT_MM / 2

    def room(self, size: SheetSize) -> Room:
        """Return how far a sheet offers places for spaced shapes."""
        off = 2 * self.offset_mm - ROUNDING
        return (size.length_mm - off, size.width_mm - off)


_Sheet = tuple[SheetSize, list[Lying]]


def lay_for_router(
    parts: Parts, stocks: Sequence[Stock], sawn: Sequence[Layout], work: RouterWork
) -> tuple[tuple[RouterLayout, ...], tuple[str, ...]]:
    """Return the sheets for a router, and the labels of parts that are not on them.

    Boards and rods are left to the saw, and so is what leaves no room for a bit around it.

    Args:
        parts: All parts of the plan.
        stocks: The stocks of the design; sheets are numbered in this order.
        sawn: The saw's sheets.
        work: The bit, how far apart outlines stay, and the border.
    """
    layouts: list[RouterLayout] = []
    for stock in stocks:
        own = [part for part in parts.parts if part.stock.name == stock.name]
        if stock.board is not None or not own or sum(part.count for part in own) > MOST_ROUTED:
            continue
        sheets = tuple(layout for layout in sawn if layout.stock.name == stock.name)
        border_mm = max(trim_of(stock.goods, 0.0), work.bit_mm, work.border_mm)
        every = [make_routed(part, work.apart_mm) for part in own]
        empty = _Job((), Kinds(()), (), work, border_mm)
        rooms = [empty.room(one.size) for one in sheets]
        routed = tuple(one for one in every if any(_fits(one, room) for room in rooms))
        job = _Job(routed, Kinds([one.ways for one in routed]), sheets, work, border_mm)
        layouts += _make_layouts(job, stock, _tightened(job, _lay(job)), len(layouts))
    on_sheets = {one.label for layout in layouts for one in layout.placements}
    return tuple(layouts), tuple(part.label for part in parts.parts if part.label not in on_sheets)


def _fits(routed: Routed, room: Room) -> bool:
    return any(way.along_x <= room[0] and way.along_y <= room[1] for way in routed.ways)


def _area(routed: Routed) -> float:
    return routed.outline.area_mm2


def _longest(routed: Routed) -> float:
    return max(max(way.along_x, way.along_y) for way in routed.ways)


def _widest(routed: Routed) -> float:
    return routed.ways[0].along_y


ORDERS: tuple[Callable[[Routed], float], ...] = (_area, _longest, _widest)
"""What is laid first: large areas, long outlines, or wide ones."""


def _lay(job: _Job) -> list[_Sheet]:
    """Return the outlines on the saw's sheets, or on one more where the bit needs it."""
    sizes = [layout.size for layout in job.sawn]
    rooms = [job.room(size) for size in sizes]
    counts = [routed.part.count for routed in job.routed]
    for first in ORDERS:
        sheets, left = fill(job.kinds, _in_order(job, counts, first), rooms)
        if not left:
            return [(size, lying) for size, lying in zip(sizes, sheets, strict=True) if lying]
    return _lay_as_sawn(job, sizes, rooms)


def _in_order(job: _Job, counts: Sequence[int], first: Callable[[Routed], float]) -> list[int]:
    kinds = sorted(range(len(job.routed)), key=lambda kind: -first(job.routed[kind]))
    return [kind for kind in kinds for _ in range(counts[kind])]


def _lay_as_sawn(job: _Job, sizes: Sequence[SheetSize], rooms: Sequence[Room]) -> list[_Sheet]:
    """Return every sheet of the saw with what is sawn from it; what is left over on more sheets."""
    result: list[_Sheet] = []
    left: list[int] = []
    for layout, room in zip(job.sawn, rooms, strict=True):
        copies = Counter(one.label for one in layout.placements)
        counts = [copies[routed.part.label] for routed in job.routed]
        order = _in_order(job, counts, _area)
        sheets, over = fill(job.kinds, order, [room])
        whole = _spread(job, layout, room) if over else sheets[0]
        whole = whole or _squeezed(job, order, room, SQUEEZE_EFFORT, room[0])
        result.append((layout.size, whole or sheets[0]))
        left += [] if whole else over
    largest = max(sizes, key=lambda size: size.length_mm * size.width_mm)
    while left:
        before = len(left)
        for size in (largest, *sizes):
            sheets, over = fill(job.kinds, left, [job.room(size)])
            if len(over) < before:
                result.append((size, sheets[0]))
                left = over
                break
    return [(size, lying) for size, lying in result if lying]


def _spread(job: _Job, layout: Layout, room: Room) -> list[Lying] | None:
    """Return outlines as the saw's sheet has them, moved apart by the bit; None without room.

    Two that lie one beyond the other along the sheet stay so; others stay one above the other.
    """
    kinds = {routed.part.label: kind for kind, routed in enumerate(job.routed)}
    spread: list[tuple[Placement, Lying]] = []
    sawn = [one for one in layout.placements if one.label in kinds]
    for one in sorted(sawn, key=lambda one: (one.x_mm, one.y_mm)):
        before = [lying for other, lying in spread if _is_beyond(one, other)]
        x = max((lying.x + job.kinds.shape(lying).along_x for lying in before), default=0.0)
        kind = kinds[one.label]
        quarters = job.routed[kind].quarters
        turn = quarters.index(1) if one.turned and 1 in quarters else 0
        spread.append((one, Lying(kind, turn, x, 0.0)))
    raised: list[tuple[Placement, Lying]] = []
    for one, lying in sorted(spread, key=lambda each: (each[0].y_mm, each[0].x_mm)):
        below = [
            under
            for other, under in raised
            if not _is_beyond(one, other) and not _is_beyond(other, one)
        ]
        y = max((under.y + job.kinds.shape(under).along_y for under in below), default=0.0)
        raised.append((one, replace(lying, y=y)))
    laid = [lying for _, lying in raised]
    return laid if _end(job, laid) <= room[0] and _top(job, laid) <= room[1] else None


def _is_beyond(one: Placement, other: Placement) -> bool:
    return other.x_mm + other.along_x_mm <= one.x_mm + SAME_POINT_MM


def _tightened(job: _Job, sheets: list[_Sheet]) -> list[_Sheet]:
    """Return the sheets with less of the last one used, where its outlines are no rectangles."""
    if not sheets:
        return sheets
    size, lying = sheets[-1]
    shaped = any(_is_shaped(job, one) for one in lying)
    if not shaped or not 1 < len(lying) <= MOST_TIGHTENED:
        return sheets
    shorter = _shortened(job, lying, job.room(size))
    return [*sheets[:-1], (size, shorter)]


def _is_shaped(job: _Job, one: Lying) -> bool:
    pieces = job.kinds.shape(one).pieces
    return len(pieces) > 1 or len(pieces[0]) != 4


def _shortened(job: _Job, lying: list[Lying], room: Room) -> list[Lying]:
    """Return outlines on a shorter stretch of their sheet, or as they lay."""
    found = _squeezed(job, [one.kind for one in lying], room, TIGHTEN_EFFORT)
    return found if found and _end(job, found) < _end(job, lying) else lying


def _squeezed(
    job: _Job, order: Sequence[int], room: Room, effort: float, enough: float = 0.0
) -> list[Lying] | None:
    """Return outlines on as short a stretch of a sheet as is found; None if that is too long."""
    if len(order) > MOST_TIGHTENED:
        return None
    names = sorted(set(order))
    turns = [
        [turn for turn, way in enumerate(job.kinds.ways[kind]) if way.along_y <= room[1]]
        for kind in names
    ]
    if not all(turns):
        return None
    shapes = [
        tuple(job.kinds.ways[kind][turn] for turn in ways)
        for kind, ways in zip(names, turns, strict=True)
    ]
    step = room[1] / LINES_ACROSS
    chosen = [names.index(kind) for kind in order]
    strip = find_strip(shapes, chosen, room[1], step, effort, enough)
    found = [
        Lying(names[kind], turns[kind][turn], float(x), float(y))
        for kind, turn, (x, y) in zip(chosen, strip.turns, strip.places.tolist(), strict=True)
    ]
    settled = settle(job.kinds, found)
    return settled if _end(job, settled) <= room[0] else None


def _end(job: _Job, lying: Sequence[Lying]) -> float:
    return max(one.x + job.kinds.shape(one).along_x for one in lying)


def _top(job: _Job, lying: Sequence[Lying]) -> float:
    return max(one.y + job.kinds.shape(one).along_y for one in lying)


def _make_layouts(
    job: _Job, stock: Stock, sheets: Sequence[_Sheet], before: int
) -> list[RouterLayout]:
    copies: Counter[int] = Counter()
    layouts = []
    for number, (size, lying) in enumerate(sheets, start=before + 1):
        placements = []
        for one in sorted(lying, key=lambda one: (one.kind, one.x, one.y)):
            copies[one.kind] += 1
            corner = (one.x + job.offset_mm, one.y + job.offset_mm)
            placements.append(place_part(job.routed[one.kind], copies[one.kind], one.turn, corner))
        used = sum(one.outline.area_mm2 for one in placements)
        bevels = {one.kind for one in lying if needs_bevels(job.routed[one.kind].part)}
        layouts.append(
            RouterLayout(
                number=number,
                stock=stock,
                size=size,
                bit_mm=job.work.bit_mm,
                apart_mm=job.work.apart_mm,
                border_mm=job.border_mm,
                placements=tuple(placements),
                used=used / (size.length_mm * size.width_mm),
                bevels=tuple(job.routed[kind].part.label for kind in sorted(bevels)),
            )
        )
    return layouts
