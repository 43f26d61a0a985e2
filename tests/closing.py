"""Puts the pieces of a plan together as a builder cuts them: from plan.json and its printed sizes.

Shares no code with the program. Each piece may be pushed anywhere, but not turned. Where two sides
touch, and where sides of touching pieces lie in one plane, both must stay together: one equation
each for how far the two pieces are pushed. An equation that follows from those before it cannot be
met by pushing: what is left of it is how far the sizes as printed do not close.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt
from shapely.geometry import Polygon

Vector = npt.NDArray[np.float64]

NEAR_MM = 0.05
LEAST_PATCH_MM2 = 25.0
SAME = 1e-6
INCHES = re.compile(r"(?:(\d+)(?: |$))?(?:(\d+)/(\d+))? ?(full|bare)?")
HAIR_INCH = {"full": 1 / 128, "bare": -1 / 128, None: 0.0}
"""Told of at most 1/64 in; a reader cuts halfway there."""


@dataclass(frozen=True, slots=True)
class Side:
    """A straight side of a piece in the room, and how far it moves when cut as printed."""

    piece: str
    name: str
    normal: Vector
    corners: Vector
    moved: Vector


@dataclass(frozen=True, slots=True)
class Remainder:
    """Two sides that should stay together, and how far apart they come out."""

    first: str
    second: str
    mm: float


def find_remainders(plan: dict[str, Any]) -> list[Remainder]:
    """Return what is left of every equation that follows from others, of plan.json."""
    sides = [side for part in plan["parts"] for side in _sides(part, plan["edition"])]
    by_piece: dict[str, list[Side]] = {}
    for side in sides:
        by_piece.setdefault(side.piece, []).append(side)
    numbers = {name: number for number, name in enumerate(by_piece)}
    touching, flush = _find_links(list(by_piece.values()))
    rows: list[tuple[int, Vector]] = []
    remainders = []
    for first, second in (*touching, *flush):
        row = np.zeros(3 * len(numbers) + 1)
        for side, sign in ((first, 1.0), (second, -1.0)):
            at = 3 * numbers[side.piece]
            row[at : at + 3] += sign * first.normal
            row[-1] += sign * (first.normal @ side.moved)
        left = _reduced(row, rows)
        pivot = int(np.argmax(np.abs(left[:-1])))
        if abs(left[pivot]) > SAME:
            rows.append((pivot, left / left[pivot]))
        else:
            remainders.append(Remainder(_told(first), _told(second), abs(float(left[-1]))))
    return remainders


def read_printed_mm(text: str, edition: str) -> float:
    """Return the length a reader cuts who reads a size without its unit."""
    if edition == "metric":
        return float(text)
    found = INCHES.fullmatch(text)
    assert found is not None, text
    whole, above, below, hair = found.groups()
    inches = int(whole or 0) + int(above or 0) / int(below or 1)
    return 25.4 * (inches + HAIR_INCH[hair])


def _told(side: Side) -> str:
    return f"{side.name} of {side.piece}"


def _reduced(row: Vector, rows: list[tuple[int, Vector]]) -> Vector:
    for pivot, known in rows:
        row = row - row[pivot] * known
    return row


def _sides(part: dict[str, Any], edition: str) -> Iterator[Side]:
    """Yield the sides of all copies of a part; only ends and edges move.

    Faces stay, and so do the floors of channels: their depths are on the marks of the tape.
    """
    length, width = (read_printed_mm(text, edition) for text in part["shown"])
    extra = np.array([length - part["length_mm"], width - part["width_mm"], 0.0])
    low = np.array([(x, y, 0.0) for x, y in part["outline_mm"]])
    high = np.array([(x, y, part["thickness_mm"]) for x, y in part["outline_b_mm"]])
    local = [("A", low[::-1], np.zeros(3)), ("B", high, np.zeros(3))]
    for i, edge in enumerate(part["edges"]):
        j = (i + 1) % len(low)
        if edge["kind"] not in {"end", "edge"} or edge["bulge"]:
            continue
        ring = np.array([low[i], low[j], high[j], high[i]])
        axis = 0 if edge["kind"] == "end" else 1
        moved = np.zeros(3)
        moved[axis] = extra[axis] / 2 * np.sign(_normal(ring)[axis])
        local.append((edge["name"], ring, moved))
    local += [(one["kind"], _floor(part, one), np.zeros(3)) for one in _channels(part)]
    for placed in part["placed"]:
        frame = np.array(placed["frame"])
        turn, origin = frame[:3, :3], frame[:3, 3]
        for name, ring, moved in local:
            corners = ring @ turn.T + origin
            yield Side(placed["name"], name, _normal(corners), corners, turn @ moved)


def _channels(part: dict[str, Any]) -> list[dict[str, Any]]:
    return [one for one in part["features"] if one["kind"] in {"dado", "groove", "rabbet"}]


def _floor(part: dict[str, Any], channel: dict[str, Any]) -> Vector:
    depth, ring = channel["depth_mm"], channel["outline_mm"]
    if channel["side"] == "A":
        return np.array([(x, y, depth) for x, y in reversed(ring)])
    return np.array([(x, y, part["thickness_mm"] - depth) for x, y in ring])


def _normal(ring: Vector) -> Vector:
    """Return the direction a ring is counter-clockwise about (Newell's rule)."""
    ahead = np.roll(ring, -1, axis=0)
    normal = np.cross(ring, ahead).sum(axis=0)
    return np.asarray(normal / np.linalg.norm(normal))


def _find_links(
    pieces: list[list[Side]],
) -> tuple[list[tuple[Side, Side]], list[tuple[Side, Side]]]:
    """Return the sides that touch, and those of touching pieces that lie in one plane."""
    touching: list[tuple[Side, Side]] = []
    flush: list[tuple[Side, Side]] = []
    for mine, theirs in combinations(pieces, 2):
        pairs = [(a, b) for a in mine for b in theirs if _in_one_plane(a, b)]
        touch = [(a, b) for a, b in pairs if a.normal @ b.normal < 0 and _share(a, b)]
        if touch:
            touching += touch
            flush += [(a, b) for a, b in pairs if a.normal @ b.normal > 0]
    return touching, flush


def _in_one_plane(first: Side, second: Side) -> bool:
    parallel = np.linalg.norm(np.cross(first.normal, second.normal)) < 100 * SAME
    return bool(parallel and abs(first.normal @ (second.corners[0] - first.corners[0])) < NEAR_MM)


def _share(first: Side, second: Side) -> bool:
    """Whether two sides in one plane have a patch in common that holds glue or a screw."""
    u = first.corners[1] - first.corners[0]
    u = u / np.linalg.norm(u)
    v = np.cross(first.normal, u)
    flat = [Polygon(np.stack([s.corners @ u, s.corners @ v], axis=1)) for s in (first, second)]
    return bool(flat[0].intersection(flat[1]).area >= LEAST_PATCH_MM2)
