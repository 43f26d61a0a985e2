"""How densely outlines are laid for a router, against the best published, and how long it takes.

``python -m tests.benchmarks.router --data FOLDER`` reads irregular_strip.json from a folder: cases
of the ESICUP collection of two-dimensional irregular strip packing, with the best densities known
to its maintainers. Whether the outlines overlap is judged by shapely, from the corners in the file
and nothing of the search but where it puts them.
"""

import argparse
import json
import time
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from shapely.affinity import rotate, translate
from shapely.geometry import Polygon

from generator.cutting.router_fill import Kinds, Lying, settle
from generator.cutting.router_shapes import make_shape
from generator.cutting.router_strip import find_strip

SMALLER = ("fu", "dighe2", "dighe1", "mao", "albano", "marques", "blaz", "dagli")
"""Cases of up to 30 outlines with a published density."""

EFFORT = 1e10
"""Cells looked at for a case: about half a minute."""

MOST_LINES = 120
"""The grid has at most so many lines across the strip."""

STEPS = (0.1, 0.125, 0.25, 0.5, 1, 2.5, 5, 10, 25, 50)

SETTLINGS = 3
"""Times all outlines slide off the grid, as on a router sheet."""

HEAD = "case        outlines  density %  published %  points below  seconds"

OVERLAP = 1e-9
"""Of the area of the strip: less is rounding."""


@dataclass(frozen=True, slots=True)
class Row:
    """A case, what was reached, the best published (both in per cent), and seconds of one core."""

    name: str
    outlines: int
    density: float
    published: float
    seconds: float
    fault: str


def run_case(case: dict[str, Any], effort: float) -> Row:
    """Return what the search reaches on a case of the file."""
    height = case["H"]
    step = next(step for step in STEPS if height / step <= MOST_LINES)
    turns = [
        [turn for turn in piece["rot"] if _height(piece, turn) <= height]
        for piece in case["pieces"]
    ]
    shapes = [
        tuple(make_shape(Polygon(piece["pts"]), turn // 90) for turn in allowed)
        for piece, allowed in zip(case["pieces"], turns, strict=True)
    ]
    kinds = [kind for kind, piece in enumerate(case["pieces"]) for _ in range(piece["q"])]
    start = time.process_time()
    strip = find_strip(shapes, kinds, height, step, effort)
    lying = [
        Lying(kind, turn, x, y)
        for kind, turn, (x, y) in zip(kinds, strip.turns, strip.places.tolist(), strict=True)
    ]
    for _ in range(SETTLINGS):
        lying = settle(Kinds(shapes), lying)
    seconds = time.process_time() - start
    placed = [_laid(case["pieces"][one.kind], turns[one.kind][one.turn], one) for one in lying]
    length = max(one.bounds[2] for one in placed)
    return Row(
        name=case["id"],
        outlines=len(kinds),
        density=100 * sum(one.area for one in placed) / (height * length),
        published=case["bk_density_pct"],
        seconds=seconds,
        fault=find_fault(placed, length, height),
    )


def find_fault(placed: list[Polygon], length: float, height: float) -> str:
    """Return what is wrong with outlines in a strip, "" where nothing is."""
    for number, one in enumerate(placed):
        low_x, low_y, high_x, high_y = one.bounds
        edge = 1e-9 * length
        if min(low_x, low_y) < -edge or high_x > length + edge or high_y > height + edge:
            return f"outline {number} leaves the strip"
        for other in range(number):
            if one.intersection(placed[other]).area > OVERLAP * length * height:
                return f"outlines {other} and {number} overlap"
    return ""


def format_row(row: Row) -> str:
    """Return a case as a line of the table."""
    line = f"{row.name:<12}{row.outlines:>8}{row.density:>11.2f}{row.published:>13.2f}"
    return f"{line}{row.published - row.density:>14.2f}{row.seconds:>9.1f}  {row.fault}".rstrip()


def _height(piece: dict[str, Any], turn: int) -> float:
    _, low, _, high = rotate(Polygon(piece["pts"]), turn, origin=(0, 0)).bounds
    return float(high - low)


def _laid(piece: dict[str, Any], turn: int, at: Lying) -> Polygon:
    turned = rotate(Polygon(piece["pts"]), turn, origin=(0, 0))
    return translate(turned, at.x - turned.bounds[0], at.y - turned.bounds[1])


def main() -> None:
    """Run the smaller cases and print a row for each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--effort", type=float, default=EFFORT)
    parser.add_argument("--cases", nargs="*", default=SMALLER)
    arguments = parser.parse_args()
    told = json.loads((arguments.data / "irregular_strip.json").read_text(encoding="utf-8"))
    cases = {case["id"]: case for case in told["instances"]}
    print(HEAD)
    for name in arguments.cases:
        print(format_row(run_case(cases[name], arguments.effort)), flush=True)


if __name__ == "__main__":
    main()
