"""An independent reading of the cuts at the shop in plan.json: rectangles, a saw and a car.

Shares no code with the cutting stage. It knows sheets, placements and cuts as plan.json tells of
them, makes the cuts that are asked for, and looks at what would be loaded.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from math import ceil
from typing import Any

NEAR = 0.01
HUGE = 10**9
Rect = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def find_trip_faults(plan: Mapping[str, Any], shop: Mapping[str, Any]) -> list[str]:
    """Return what is wrong with the list for one car; empty if nothing.

    Looked for: a cut that does not go from edge to edge of one piece, goes through a blank, leaves
    less than the trim beyond a blank, is not at its size, or is no cut of the plan; pieces told
    wrongly; and a piece that does not fit though the plan does not say so.
    """
    faults = []
    for sheet in find_bought(plan):
        faults += [f"sheet {sheet['number']}: {fault}" for fault in _saw(sheet, shop)]
    orders = [cut["order"] for cut in shop["cuts"]]
    if orders != list(range(1, len(orders) + 1)):
        faults.append("the cuts are not numbered 1, 2, 3 …")
    if any(taker < car for taker, car in zip(shop["taker_mm"], shop["car_mm"], strict=True)):
        faults.append("the list is for less than the car")
    return faults


def find_bought(plan: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the sheets that come from the shop: not the offcuts that are there already."""
    return [sheet for sheet in plan["sheets"] if not sheet.get("owned", False)]


def count_fewest_cuts(sheet: Mapping[str, Any], car: Sequence[float], keep: Sequence[float]) -> int:
    """Return the fewest cuts that make a sheet fit, by trying every cut that could come first.

    Only cuts of the plan are tried, and where there is no blank, cuts into equal strips.
    """
    kerf: float = sheet["kerf_mm"]
    blanks = [rect for _, rect in _blanks(sheet)]
    lines = [
        (axis, cut["from"][axis], *sorted((cut["from"][1 - axis], cut["to"][1 - axis])))
        for cut in sheet["cuts"]
        if cut["kind"] != "trim"
        for axis in (0 if cut["from"][0] == cut["to"][0] else 1,)
    ]
    slack = max(sheet["trim_mm"]) + NEAR

    @cache
    def fewest(piece: Rect) -> int:
        if _lies_in(piece, car):
            return 0
        if not any(_meet(piece, blank) for blank in blanks):
            return _waste_cuts(piece, car, keep, kerf)
        best = HUGE
        for axis, at, low, high in lines:
            if not piece[axis] + NEAR < at < piece[axis + 2] - NEAR:
                continue
            if low > piece[1 - axis] + slack or high < piece[3 - axis] - slack:
                continue
            band = _band(piece, axis, at, kerf)
            if not any(_meet(band, blank) for blank in blanks):
                best = min(best, 1 + sum(fewest(half) for half in _halves(piece, axis, at, kerf)))
        return best

    return fewest((0.0, 0.0, *sheet["size_mm"]))


def _waste_cuts(piece: Rect, car: Sequence[float], keep: Sequence[float], kerf: float) -> int:
    size = (piece[2] - piece[0], piece[3] - piece[1])
    if min(size) < min(keep) - NEAR or max(size) < max(keep) - NEAR:
        return 0
    counts = [
        [ceil((size[axis] + kerf - NEAR) / (car[other] + kerf)) for other in (axis, 1 - axis)]
        for axis in (0, 1)
    ]
    return min(int(x * y) - 1 for x, y in zip(*counts, strict=True))


def _saw(sheet: Mapping[str, Any], shop: Mapping[str, Any]) -> Iterator[str]:
    kerf: float = sheet["kerf_mm"]
    blanks = _blanks(sheet)
    pieces: list[Rect] = [(0.0, 0.0, *sheet["size_mm"])]
    own = {cut["order"]: cut for cut in sheet["cuts"]}
    for cut in (cut for cut in shop["cuts"] if cut["sheet"] == sheet["number"]):
        name = f"shop cut {cut['order']}"
        axis = 0 if cut["kind"] == "crosscut" else 1
        at = cut["from"][axis]
        hit = [piece for piece in pieces if _is_across(piece, cut, axis)]
        if len(hit) != 1 or abs(cut["to"][axis] - at) > NEAR:
            yield f"{name} does not go through one piece from edge to edge"
            continue
        band = _band(hit[0], axis, at, kerf)
        yield from (f"{name} goes through {label}" for label, rect in blanks if _meet(band, rect))
        if abs(band[axis] - hit[0][axis] - cut["size_mm"]) > NEAR:
            yield f"{name} is not at its size"
        replaced = own.get(cut["replaces"])
        if replaced is not None and abs(replaced["from"][axis] - at) > NEAR:
            yield f"{name} is not on cut {cut['replaces']}"
        if replaced is None and any(_meet(hit[0], rect) for _, rect in blanks):
            yield f"{name} is no cut of the plan"
        pieces.remove(hit[0])
        halves = _halves(hit[0], axis, at, kerf)
        pieces += [half for half in halves if half[axis + 2] - half[axis] > NEAR]
    yield from _compare(sheet, shop, pieces)


def _compare(
    sheet: Mapping[str, Any], shop: Mapping[str, Any], pieces: Sequence[Rect]
) -> Iterator[str]:
    blanks = _blanks(sheet)
    left, right, bottom, top = sheet["trim_mm"]
    length, width = sheet["size_mm"]
    sawn = []
    for piece in pieces:
        inside = sorted(label for label, rect in blanks if _holds(piece, rect))
        fits = _lies_in(piece, shop["taker_mm"])
        sawn.append((inside, fits, piece[2] - piece[0], piece[3] - piece[1]))
        if inside and not fits:
            yield f"{', '.join(inside)} do not fit"
    told = [
        (sorted(one["labels"]), one["fits"], *one["size_mm"])
        for one in shop["pieces"]
        if one["sheet"] == sheet["number"]
    ]
    for one in told:
        same = [other for other in sawn if _is_same(one, other)]
        if same:
            sawn.remove(same[0])
        else:
            yield f"a piece is told of that is not there: {one}"
    yield from (f"a piece is not told of: {one}" for one in sawn)
    if sum(len(labels) for labels, *_ in told) != len(blanks):
        yield "a blank is on no piece"
    for label, rect in blanks:
        room = (rect[0] - left, rect[1] - bottom, length - right - rect[2], width - top - rect[3])
        if min(room) < -NEAR:
            yield f"{label} reaches into the trim"
    for one in shop["pieces"]:
        if one["is_kept"] and not one["fits"]:
            yield f"piece {one['name']} is taken home and does not fit"


def _is_same(one: tuple[Any, ...], other: tuple[Any, ...]) -> bool:
    near = all(abs(a - b) <= NEAR for a, b in zip(one[2:], other[2:], strict=True))
    return bool(one[:2] == other[:2] and near)


def _blanks(sheet: Mapping[str, Any]) -> list[tuple[str, Rect]]:
    blanks = []
    for one in sheet["placements"]:
        size = (one["length_mm"], one["width_mm"])
        along_x, along_y = reversed(size) if one["turned"] else size
        rect = (one["x_mm"], one["y_mm"], one["x_mm"] + along_x, one["y_mm"] + along_y)
        blanks.append((one["label"], rect))
    return blanks


def _is_across(piece: Rect, cut: Mapping[str, Any], axis: int) -> bool:
    ends = sorted((cut["from"][1 - axis], cut["to"][1 - axis]))
    is_inside: bool = piece[axis] < cut["from"][axis] < piece[axis + 2]
    return (
        is_inside
        and abs(ends[0] - piece[1 - axis]) < NEAR
        and abs(ends[1] - piece[3 - axis]) < NEAR
    )


def _band(piece: Rect, axis: int, at: float, kerf: float) -> Rect:
    low, high = at - kerf / 2, at + kerf / 2
    if axis == 0:
        return (low, piece[1], high, piece[3])
    return (piece[0], low, piece[2], high)


def _halves(piece: Rect, axis: int, at: float, kerf: float) -> tuple[Rect, Rect]:
    low, high = at - kerf / 2, at + kerf / 2
    if axis == 0:
        return (piece[0], piece[1], low, piece[3]), (high, piece[1], piece[2], piece[3])
    return (piece[0], piece[1], piece[2], low), (piece[0], high, piece[2], piece[3])


def _meet(one: Rect, other: Rect) -> bool:
    return (
        min(one[2], other[2]) - max(one[0], other[0]) > NEAR
        and min(one[3], other[3]) - max(one[1], other[1]) > NEAR
    )


def _holds(piece: Rect, rect: Rect) -> bool:
    return (
        min(rect[0] - piece[0], rect[1] - piece[1]) > -NEAR
        and min(piece[2] - rect[2], piece[3] - rect[3]) > -NEAR
    )


def _lies_in(piece: Rect, car: Sequence[float]) -> bool:
    size = sorted((piece[2] - piece[0], piece[3] - piece[1]))
    return all(a <= b + NEAR for a, b in zip(size, sorted(car), strict=True))
