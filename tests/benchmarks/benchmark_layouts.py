"""Benchmark instances, layouts of them, and a check of layouts that knows nothing of any solver."""

import json
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Rect = tuple[int, int, int, int]
"""Least x, least y, length along x, length along y, in the whole units of the data."""

Layout = list[list[Rect]]
"""For every sheet the pieces on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Instance:
    """Rectangles to be cut from equal sheets.

    Attributes:
        name: As the data name it.
        cell: The class and the number of pieces, as published totals name them; or the set.
        items: Length, width and copies.
        turns: Whether pieces may be turned by a quarter.
    """

    name: str
    cell: str
    along_x: int
    along_y: int
    items: tuple[tuple[int, int, int], ...]
    turns: bool

    @property
    def copies(self) -> int:
        """How many pieces there are."""
        return sum(copies for _, _, copies in self.items)


def read_classes(data: Path, turns: bool) -> list[Instance]:
    """Return the 500 instances of ten classes."""
    return [
        _instance(entry, f"{entry['cls']}_{entry['n']}", turns)
        for entry in _read(data / "bwmv500.json")["instances"]
    ]


def read_furniture(data: Path, turns: bool, most: int = 320) -> list[Instance]:
    """Return the furniture company's instances with at most so many copies."""
    found = [
        _instance(entry, "furniture", turns)
        for entry in _read(data / "furniture_A43.json")["instances"]
    ]
    return [instance for instance in found if instance.copies <= most]


def read_published(data: Path, turns: bool) -> dict[str, dict[str, int]]:
    """Return the published counts: of each method for each cell of ten instances."""
    tables: dict[str, dict[str, int]] = _read(data / "published_2bp_guillotine.json")[
        "RG" if turns else "OG"
    ]
    return tables


def find_layout_faults(instance: Instance, layout: Layout) -> list[str]:
    """Return what is wrong: a piece outside, overlapping, missing, or not free by through cuts."""
    faults = []
    for number, sheet in enumerate(layout, start=1):
        if any(
            x < 0 or y < 0 or x + a > instance.along_x or y + b > instance.along_y
            for x, y, a, b in sheet
        ):
            faults.append(f"sheet {number}: a piece lies outside")
        if not comes_apart(sheet):
            faults.append(f"sheet {number}: no cuts from edge to edge take the pieces apart")
    placed = Counter(_shape(a, b, instance.turns) for sheet in layout for _, _, a, b in sheet)
    wanted: Counter[tuple[int, int]] = Counter()
    for a, b, copies in instance.items:
        wanted[_shape(a, b, instance.turns)] += copies
    if placed != wanted:
        faults.append("the pieces placed are not the pieces wanted")
    return faults


def comes_apart(rects: list[Rect]) -> bool:
    """Whether straight cuts through all there is end with every piece alone and whole."""
    waiting = [rects]
    while waiting:
        group = waiting.pop()
        if len(group) < 2:
            continue
        parts = _part(group, 0) or _part(group, 1)
        if not parts:
            return False
        waiting += parts
    return True


def _part(group: list[Rect], axis: int) -> list[list[Rect]]:
    """Return the groups that cuts across one axis make; none if there is no such cut."""
    parts: list[list[Rect]] = []
    reach = -1
    for rect in sorted(group, key=lambda rect: rect[axis]):
        if not parts or rect[axis] >= reach:
            parts.append([])
        parts[-1].append(rect)
        reach = max(reach, rect[axis] + rect[axis + 2])
    return parts if len(parts) > 1 else []


def _shape(along_x: int, along_y: int, turns: bool) -> tuple[int, int]:
    return (max(along_x, along_y), min(along_x, along_y)) if turns else (along_x, along_y)


def _instance(entry: dict[str, Any], cell: str, turns: bool) -> Instance:
    items = [(item[0], item[1], item[2] if len(item) > 2 else 1) for item in entry["items"]]
    return Instance(
        name=str(entry["id"]),
        cell=cell,
        along_x=int(entry["W"]),
        along_y=int(entry["H"]),
        items=tuple(items),
        turns=turns,
    )


def _read(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return found
