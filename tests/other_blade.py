"""Another blade in the plan's saw: every cut of plan.json made with its settings and that kerf.

Shares no code with the cutting stage or the other simulators. It knows sizes alone: a fence gives
what is measured, the blade takes its kerf, the rest is what is left. What is called a part must
have the size of its blank.
"""

from collections.abc import Iterator, Mapping
from typing import Any

NEAR_MM = 0.06
"""Nobody sets a fence or reads a rule finer."""

Json = Mapping[str, Any]
Size = tuple[float, float]


def find_wrong_parts(plan: Json, kerf_mm: float) -> list[str]:
    """Return every piece that comes out at another size than it should, or that cannot be made."""
    pieces = dict(_whole_sheets(plan))
    sheets = dict(_named_sheets(plan))
    cuts = [(cut, name) for name, sheet in sheets.items() for cut in sheet["cuts"]]
    faults: list[str] = []
    for cut, name in sorted(cuts, key=lambda pair: int(pair[0]["order"])):
        faults += _make(pieces, cut, sheets[name], kerf_mm)
    return faults


def _named_sheets(plan: Json) -> Iterator[tuple[str, Json]]:
    for word in ("sheet", "board"):
        for number, sheet in enumerate(plan.get(f"{word}s", ()), start=1):
            yield f"{word} {number}", sheet


def _whole_sheets(plan: Json) -> Iterator[tuple[str, Size]]:
    for name, sheet in _named_sheets(plan):
        yield name, (sheet["size_mm"][0], sheet["size_mm"][1])


def _make(pieces: dict[str, Size], cut: Json, sheet: Json, kerf_mm: float) -> Iterator[str]:
    axis = 1 if abs(cut["from"][1] - cut["to"][1]) < abs(cut["from"][0] - cut["to"][0]) else 0
    held, size = cut["of"], pieces[cut["of"]]
    if cut["kind"] == "trim":
        pieces[held] = _with(size, axis, size[axis] - max(cut["setting_mm"], kerf_mm))
        return
    freed, _, left = cut["frees"].partition(", leaving ")
    off = _with(size, axis, cut["setting_mm"])
    rest = _with(size, axis, size[axis] - cut["setting_mm"] - kerf_mm)
    if off[axis] > size[axis] + NEAR_MM:
        yield f"cut {cut['order']}: {held} is too small for {freed}"
    yield from _put(pieces, freed, off, sheet, cut)
    if left:
        yield from _put(pieces, left, rest, sheet, cut)
    pieces[held] = rest


def _put(pieces: dict[str, Size], name: str, size: Size, sheet: Json, cut: Json) -> Iterator[str]:
    if name.startswith(("strip ", "piece ")):
        pieces[name] = size
        return
    wanted = [_blank(one) for one in sheet["placements"] if one["label"] == name]
    if not any(all(abs(a - b) <= NEAR_MM for a, b in zip(size, w, strict=True)) for w in wanted):
        yield f"cut {cut['order']}: {name} comes out {size[0]:.2f} by {size[1]:.2f}"


def _blank(placement: Json) -> Size:
    length, width = placement["length_mm"], placement["width_mm"]
    return (width, length) if placement["turned"] else (length, width)


def _with(size: Size, axis: int, value: float) -> Size:
    return (value, size[1]) if axis == 0 else (size[0], value)
