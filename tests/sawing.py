"""An independent reading of plan.json: can every sheet and board be sawn into every blank?

Shares no code with the cutting stage. It plays the saw: it holds the pieces that exist, makes the
listed cuts one after the other, and looks at what lies on the bench in the end.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from generator.model.cutting import Cut, Cutting, Layout
from generator.model.parts import Parts

NEAR = 0.01
Rect = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""


def read_sawing(cutting: Cutting, parts: Parts | None = None) -> dict[str, Any]:
    """Return a cutting as plan.json tells of it, as far as sawing goes."""
    stocks = {part.label: part.stock.name for part in parts.parts} if parts else {}
    return {
        "parts": [
            {
                "label": blank.label,
                "count": blank.count,
                "blank_mm": [blank.length_mm, blank.width_mm],
                **({"stock": stocks[blank.label]} if blank.label in stocks else {}),
            }
            for blank in cutting.blanks
        ],
        "sheets": [_read_layout(layout) for layout in cutting.layouts],
        "boards": [_read_layout(layout) for layout in cutting.boards],
        "settings": [
            {
                "order": setting.order,
                "kind": setting.kind,
                "value_mm": setting.value_mm,
                "pieces": list(setting.pieces),
                "where": [setting.where] if setting.where else [],
                "cuts": setting.cuts,
            }
            for setting in cutting.settings
        ],
    }


def find_faults(plan: Mapping[str, Any]) -> list[str]:
    """Return what is wrong with the sheets and boards of a plan like plan.json; empty if nothing.

    Looked for: a piece outside the trimmed sheet, two pieces less than a kerf apart, a blank of
    the wrong size, missing or there twice, a layout that does not come apart by cuts from edge to
    edge, and a list of cuts that cannot be made in its order or does not free every piece.
    """
    faults = _find_count_faults(plan)
    orders = [cut["order"] for sheet in _sheets_and_boards(plan) for cut in sheet["cuts"]]
    if sorted(orders) != list(range(1, len(orders) + 1)):
        faults.append("the cuts are not numbered 1, 2, 3 … over the whole plan")
    for number, sheet in enumerate(plan["sheets"], start=1):
        found = [*_find_place_faults(sheet), *_find_separation_faults(sheet), *_saw(sheet)]
        faults += [f"sheet {number}: {fault}" for fault in found]
    for number, board in enumerate(plan.get("boards", ()), start=1):
        found = [*_find_place_faults(board), *_find_separation_faults(board), *_saw(board)]
        found += _find_board_faults(board)
        faults += [f"board {number}: {fault}" for fault in found]
    return faults


def _sheets_and_boards(plan: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    return [*plan["sheets"], *plan.get("boards", ())]


def _find_board_faults(board: Mapping[str, Any]) -> list[str]:
    """A board is trimmed at its ends alone, and all its wood runs along it."""
    left, right, bottom, top = _trims(board)
    faults = []
    if (bottom, top) != (0, 0) or left != right:
        faults.append("its long edges are trimmed, or its ends unlike each other")
    for name, (x0, _, x1, _) in _rects(board):
        if x0 < left - NEAR or x1 > board["size_mm"][0] - right + NEAR:
            faults.append(f"{name} reaches into a rough end")
    if any(placement["turned"] for placement in board["placements"]):
        faults.append("a piece lies across the board")
    return faults


def _read_layout(layout: Layout) -> dict[str, Any]:
    return {
        "stock": layout.stock.name,
        "size_mm": [layout.size.length_mm, layout.size.width_mm],
        "trim_mm": list(layout.trim_mm),
        "kerf_mm": layout.kerf_mm,
        "placements": [
            {
                "label": placement.label,
                "copy": placement.copy,
                "x_mm": placement.x_mm,
                "y_mm": placement.y_mm,
                "length_mm": placement.length_mm,
                "width_mm": placement.width_mm,
                "turned": placement.turned,
            }
            for placement in layout.placements
        ],
        "cuts": [_read_cut(cut) for cut in layout.cuts],
        "offcuts": [
            {
                "x_mm": offcut.x_mm,
                "y_mm": offcut.y_mm,
                "length_mm": offcut.length_mm,
                "width_mm": offcut.width_mm,
            }
            for offcut in layout.offcuts
        ],
    }


def _read_cut(cut: Cut) -> dict[str, Any]:
    return {
        "order": cut.order,
        "setting": cut.setting,
        "kind": cut.kind,
        "setting_mm": cut.setting_mm,
        "from": list(cut.start),
        "to": list(cut.end),
        "of": cut.of,
        "frees": cut.frees,
    }


def _find_count_faults(plan: Mapping[str, Any]) -> list[str]:
    faults = []
    placed: Counter[tuple[str, int]] = Counter()
    for sheet in _sheets_and_boards(plan):
        for placement in sheet["placements"]:
            placed[placement["label"], placement["copy"]] += 1
            faults += _find_blank_faults(placement, sheet, plan["parts"])
    wanted = {
        (part["label"], copy) for part in plan["parts"] for copy in range(1, part["count"] + 1)
    }
    for label, copy in sorted(wanted | set(placed)):
        times = placed[label, copy]
        if times != ((label, copy) in wanted):
            faults.append(f"copy {copy} of {label} is placed {times} times")
    return faults


def _find_blank_faults(
    placement: Mapping[str, Any], sheet: Mapping[str, Any], parts: Iterable[Mapping[str, Any]]
) -> list[str]:
    for part in parts:
        if part["label"] == placement["label"]:
            length, width = part["blank_mm"]
            faults = []
            if (
                abs(length - placement["length_mm"]) > NEAR
                or abs(width - placement["width_mm"]) > NEAR
            ):
                faults.append(f"{part['label']} is not placed at the size of its blank")
            if part.get("stock", sheet["stock"]) != sheet["stock"]:
                faults.append(f"{part['label']} is placed on another stock than its own")
            if placement["turned"] and part.get("grain") == "along":
                faults.append(f"{part['label']} is turned across the grain")
            return faults
    return [f"{placement['label']} is placed but is no part"]


def _find_place_faults(sheet: Mapping[str, Any]) -> list[str]:
    left, right, bottom, top = _trims(sheet)
    length, width = sheet["size_mm"]
    inside = (left, bottom, length - right, width - top)
    faults = []
    rects = _rects(sheet)
    for name, rect in rects:
        if (
            min(rect[0] - inside[0], rect[1] - inside[1]) < -NEAR
            or min(inside[2] - rect[2], inside[3] - rect[3]) < -NEAR
        ):
            faults.append(f"{name} lies outside the trimmed sheet")
    for index, (name, one) in enumerate(rects):
        for other_name, other in rects[:index]:
            apart = max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])
            if apart < -NEAR:
                faults.append(f"{name} and {other_name} overlap")
            elif apart < sheet["kerf_mm"] - NEAR:
                faults.append(f"{name} and {other_name} are less than a kerf apart")
    return faults


def _find_separation_faults(sheet: Mapping[str, Any]) -> list[str]:
    if _comes_apart([rect for _, rect in _rects(sheet)], sheet["kerf_mm"]):
        return []
    return ["no cuts from edge to edge take the pieces apart"]


def _comes_apart(rects: Sequence[Rect], kerf: float) -> bool:
    """Whether straight cuts through all of what is there end with every piece alone."""
    if len(rects) < 2:
        return True
    for axis in (0, 1):
        groups: list[list[Rect]] = []
        reach = float("-inf")
        for rect in sorted(rects, key=lambda rect: rect[axis]):
            if not groups or rect[axis] - reach >= kerf - NEAR:
                groups.append([])
            groups[-1].append(rect)
            reach = max(reach, rect[axis + 2])
        if len(groups) > 1:
            return all(_comes_apart(group, kerf) for group in groups)
    return False


def _saw(sheet: Mapping[str, Any]) -> list[str]:
    """Make the cuts in their order and return what goes wrong."""
    length, width = sheet["size_mm"]
    pieces: list[Rect] = [(0.0, 0.0, length, width)]
    wanted = _rects(sheet)
    faults = []
    for cut in sorted(sheet["cuts"], key=lambda cut: cut["order"]):
        band = _band(cut, sheet["kerf_mm"])
        axis = 1 if _is_level(cut) else 0
        faults += [f"cut {cut['order']} goes through {n}" for n, r in wanted if _meet(band, r)]
        if cut["kind"] != "trim" and cut["kind"] != ("rip" if axis else "crosscut"):
            faults.append(f"cut {cut['order']} is no {cut['kind']}")
        hit = [piece for piece in pieces if _meet(band, piece)]
        if len(hit) != 1 or not _spans(band, hit[0], axis):
            faults.append(f"cut {cut['order']} does not go through one piece from edge to edge")
            continue
        faults += _find_setting_faults(cut, band, hit[0], axis)
        pieces.remove(hit[0])
        pieces += _halves(hit[0], band, axis)
    for name, rect in wanted:
        if not any(_is_same(rect, piece) for piece in pieces):
            faults.append(f"{name} is not alone at its size after the last cut")
    return faults


def _find_setting_faults(cut: Mapping[str, Any], band: Rect, piece: Rect, axis: int) -> list[str]:
    """A setting is the size made on one side; of a trim, what is taken off."""
    near, far = band[axis] - piece[axis], piece[axis + 2] - band[axis + 2]
    if cut["kind"] == "trim":
        kerf = band[axis + 2] - band[axis]
        near, far = near + kerf, far + kerf
    if min(abs(near - cut["setting_mm"]), abs(far - cut["setting_mm"])) > NEAR:
        return [f"cut {cut['order']} is not where its setting puts it"]
    return []


def _trims(sheet: Mapping[str, Any]) -> tuple[float, float, float, float]:
    trim = sheet["trim_mm"]
    if isinstance(trim, int | float):
        return (trim, trim, trim, trim)
    left, right, bottom, top = trim
    return (left, right, bottom, top)


def _rects(sheet: Mapping[str, Any]) -> list[tuple[str, Rect]]:
    rects = []
    for placement in sheet["placements"]:
        size = (placement["length_mm"], placement["width_mm"])
        along_x, along_y = reversed(size) if placement["turned"] else size
        x, y = placement["x_mm"], placement["y_mm"]
        name = f"{placement['label']} {placement['copy']}"
        rects.append((name, (x, y, x + along_x, y + along_y)))
    return rects


def _is_level(cut: Mapping[str, Any]) -> bool:
    return bool(abs(cut["from"][1] - cut["to"][1]) <= NEAR)


def _band(cut: Mapping[str, Any], kerf: float) -> Rect:
    """Return what the blade turns to dust."""
    (x0, y0), (x1, y1) = cut["from"], cut["to"]
    half = kerf / 2
    if _is_level(cut):
        return (min(x0, x1), y0 - half, max(x0, x1), y0 + half)
    return (x0 - half, min(y0, y1), x0 + half, max(y0, y1))


def _meet(one: Rect, other: Rect) -> bool:
    """Whether two rectangles have more than a hair in common; a line without width counts."""
    return all(
        min(one[i + 2], other[i + 2]) - max(one[i], other[i])
        > min(NEAR, one[i + 2] - one[i]) - 1e-9
        and one[i] < other[i + 2] - NEAR
        and one[i + 2] > other[i] + NEAR
        for i in (0, 1)
    )


def _spans(band: Rect, piece: Rect, axis: int) -> bool:
    other = 1 - axis
    return band[other] <= piece[other] + NEAR and band[other + 2] >= piece[other + 2] - NEAR


def _halves(piece: Rect, band: Rect, axis: int) -> list[Rect]:
    lower, upper = list(piece), list(piece)
    lower[axis + 2], upper[axis] = band[axis], band[axis + 2]
    return [
        (half[0], half[1], half[2], half[3])
        for half in (lower, upper)
        if half[axis + 2] - half[axis] > NEAR
    ]


def _is_same(one: Rect, other: Rect) -> bool:
    return all(abs(a - b) <= NEAR for a, b in zip(one, other, strict=True))
